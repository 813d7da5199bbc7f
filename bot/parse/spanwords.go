package parse

import "strings"

// SpanInEnglish puts a span that is said in another language into the words that
// SpanOf reads: "settimana scorsa", "seit 1. März", "derniers 10 jours".
func SpanInEnglish(text string) string {
	text = " " + strings.Join(strings.Fields(strings.ReplaceAll(strings.ToLower(text), "’", "'")), " ") + " "
	for _, s := range spanWords() {
		for _, said := range s.said {
			text = strings.ReplaceAll(text, " "+said+" ", " "+s.english+" ")
		}
	}
	return strings.TrimSpace(text)
}

// A spanWord is a word of a span and what it is called elsewhere; accents may be
// left out.
type spanWord struct {
	english string
	said    []string
}

// spanWords has the longer before what they begin with.
func spanWords() []spanWord {
	return []spanWord{
		{"last week", []string{
			"la settimana scorsa", "settimana scorsa", "scorsa settimana", "letzte woche", "letzter woche", "vorige woche", "la semaine dernière", "la semaine derniere", "semaine dernière", "semaine derniere",
			"la semana pasada", "semana pasada", "a semana passada", "semana passada",
		}},
		{"this week", []string{"questa settimana", "diese woche", "dieser woche", "cette semaine", "esta semana"}},
		{"last month", []string{
			"il mese scorso", "mese scorso", "scorso mese", "letzter monat", "letzten monat", "letztem monat", "voriger monat", "vorigen monat", "le mois dernier", "mois dernier",
			"el mes pasado", "mes pasado", "o mês passado", "mês passado", "mes passado",
		}},
		{"this month", []string{"questo mese", "dieser monat", "diesen monat", "ce mois-ci", "ce mois", "este mes", "este mês"}},
		{"last quarter", []string{"trimestre scorso", "scorso trimestre", "letztes quartal", "voriges quartal", "trimestre dernier", "dernier trimestre", "trimestre pasado", "trimestre passado"}},
		{"last year", []string{
			"l'anno scorso", "anno scorso", "letztes jahr", "voriges jahr", "l'année dernière", "l'annee derniere", "année dernière", "el año pasado", "año pasado", "o ano passado", "ano passado",
		}},
		{"this year", []string{"quest'anno", "questo anno", "dieses jahr", "cette année", "cette annee", "este año", "este ano"}},
		{"last weekend", []string{"fine settimana scorso", "weekend scorso", "letztes wochenende", "le week-end dernier", "week-end dernier", "fin de semana pasado", "fim de semana passado"}},
		{ThisBag, []string{"questa busta", "questo sacco", "dieser sack", "diesem sack", "diese tüte", "dieser tüte", "ce sachet", "ce sac", "esta bolsa", "este saco", "este pacote"}},
		{"today", []string{"oggi", "heute", "aujourd'hui", "hoy", "hoje"}},
		{"yesterday", []string{"ieri", "gestern", "hier", "ayer", "ontem"}},
		{"all", []string{"tutto", "alles", "tout", "todo", "tudo"}},
		{"last", []string{"ultimi", "ultime", "gli ultimi", "le ultime", "letzte", "letzten", "derniers", "dernières", "dernieres", "les derniers", "últimos", "últimas", "ultimos", "ultimas", "los últimos"}},
		{"days", []string{"giorni", "tage", "tagen", "jours", "días", "dias"}},
		{"weeks", []string{"settimane", "wochen", "semaines", "semanas"}},
		{"months", []string{"mesi", "monate", "monaten", "mois", "meses"}},
		{"since", []string{"da", "dal", "dall'", "dalla", "seit", "ab", "depuis", "depuis le", "desde", "desde el", "desde o"}},
		{"to", []string{"al", "fino al", "bis", "bis zum", "au", "jusqu'au", "hasta", "hasta el", "até", "até o", "ate"}},
		{"january", []string{"gennaio", "januar", "janvier", "enero", "janeiro"}},
		{"february", []string{"febbraio", "februar", "février", "fevrier", "febrero", "fevereiro"}},
		{"march", []string{"marzo", "märz", "maerz", "mars", "março", "marco"}},
		{"april", []string{"aprile", "avril", "abril"}},
		{"may", []string{"maggio", "mai", "mayo", "maio"}},
		{"june", []string{"giugno", "juni", "juin", "junio", "junho"}},
		{"july", []string{"luglio", "juli", "juillet", "julio", "julho"}},
		{"august", []string{"agosto", "août", "aout"}},
		{"september", []string{"settembre", "septembre", "septiembre", "setiembre", "setembro"}},
		{"october", []string{"ottobre", "oktober", "octobre", "octubre", "outubro"}},
		{"november", []string{"novembre", "noviembre", "novembro"}},
		{"december", []string{"dicembre", "dezember", "décembre", "decembre", "diciembre", "dezembro"}},
		{"monday", []string{"lunedì", "lunedi", "montag", "lundi", "lunes", "segunda", "segunda-feira"}},
		{"tuesday", []string{"martedì", "martedi", "dienstag", "mardi", "martes", "terça", "terca", "terça-feira"}},
		{"wednesday", []string{"mercoledì", "mercoledi", "mittwoch", "mercredi", "miércoles", "miercoles", "quarta", "quarta-feira"}},
		{"thursday", []string{"giovedì", "giovedi", "donnerstag", "jeudi", "jueves", "quinta", "quinta-feira"}},
		{"friday", []string{"venerdì", "venerdi", "freitag", "vendredi", "viernes", "sexta", "sexta-feira"}},
		{"saturday", []string{"sabato", "samstag", "sonnabend", "samedi", "sábado", "sabado"}},
		{"sunday", []string{"domenica", "sonntag", "dimanche", "domingo"}},
	}
}
