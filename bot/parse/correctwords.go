package parse

import (
	"strings"
	"sync"
)

// A hint is what a word says where a number is put right, several at once.
type hint int

const (
	softHint   hint = 1 << iota // nothing
	wasHint                     // how it was
	beHint                      // the same, in "was" itself
	makeHint                    // that it is to be otherwise
	shouldHint                  // the same, in "should"
	wrongHint                   // that it was written or read wrongly
	sorryHint                   // that something is taken back
	denyHint                    // that the number behind it is not the one
	lastHint                    // that it is of the last shot
	doseHint
	yieldHint
	timeHint
	dialHint
	massHint // dose or yield
	turnHint // that the dial is turned, or how it stands now
	personHint
	otherHint // that it is of something else: another's shot, an earlier one, what comes next
)

// place returns which number of a shot it names, 0 for none.
func (h hint) place() place {
	switch {
	case h&doseHint != 0:
		return dosePlace
	case h&yieldHint != 0:
		return yieldPlace
	case h&timeHint != 0:
		return timePlace
	case h&dialHint != 0:
		return dialPlace
	}
	return 0
}

// hints are the closed words of putting right, in the six languages.
//
//nolint:gochecknoglobals // read once: a constant in all but form
var hints = sync.OnceValue(func() map[string]hint {
	all := map[string]hint{}
	for _, of := range []struct {
		hint  hint
		words string
	}{
		{softHint, `altogether like mind beim finalement plutôt ui crap mannaggia er ffs damn shoot oof uff rs kk pfv cant can't u can could what kannst könnt dsl porfa favore x coffee kaffee caffè café but sondern sino mas mais pero ma again wieder nochmal ancora encore looked properly rest fine right everything except less longer shorter more than at on u ur its im ive up off kept dripping preinfusion real actual whole a an the this that it its it's i i'm im we you'd to of for with and so just only then well ok okay yes yeah yep hey hi oh ah um er eh hm hmm argh ugh lol haha
			guys all everyone mate folks team boss please pls plz thx thanks cheers btw fyi tbh really though tho too also actually in fact think guess believe realised realized noticed
			my mine me did do have has been got came went made part get gave can could would you need needs say said tell told put up down here there as be is s sec secs seconds g gram grams number figure value record precise exact exactly machine screen display
			mio mia mío mía meu minha ma ich es das der die den des dös is dem ein eine er sie wir mir mich sein auf bei hat warens mein meine meiner meinem du bitte danke leute leider eigentlich doch mal ja ach äh hab habe hatte haben kam kamen glaub glaube wohl gerade eben nur bloß und von vom zu im ins so dann da sek sekunden gramm
			sono l'ho su sul nel nella il lo la le gli un una uno io mi ci ne e di del della dello da dal per con che ho ha hanno avevo aveva avevi grazie ragazzi prego credo penso sa solo soltanto appena davvero proprio poi bensì secondi grammi se
			à au aux sur dans jai jme jlai suis peux stp je par mon ma mes j' j'ai tu il elle on le la les l' un une ce ça c'est de du des d' en y et pour avec que qu' ai avais avait merci gars crois pense juste seulement vraiment alors donc bien euh secondes grammes s'il te plaît vous
			yo me mi lo la el q que les ehh los las un una se le y de del en por para con que he había gracias chicos creo pienso solo sólo realmente pues ya bueno segundos gramos favor
			na no nas nos ao eu me o a os as um uma se e de do da em por para com que tinha havia obrigado obrigada malta pessoal acho penso só apenas realmente pois já bom segundos gramas favor pf isto isso`},
		{sorryHint, `verdade uy opa oop nah ne nö faute frappe lied sorry apologies fat fingers finger oops ops ups oups whoops no nope wait hang actually bad fault mistake error correction
			nein nee halt moment falsch mist ach sorry entschuldigung entschuldige tschuldigung verzeihung hoppla fehler quatsch
			no scusa scusate scusami aspetta aspettate aspe anzi errore cavolo
			non pardon désolé désolée attends attendez zut mince erreur excusez fait
			perdón perdon perdona perdonen perdonad espera ay fallo realidad
			não nao desculpa desculpe desculpem afinal ai erro`},
		{denyHint, `forget scrap not isn't wasn't wasnt koane koa keine keinen macché macche instead isnt nicht kein statt anstatt invece pas lieu place vez rather`},
		{wasHint | beHint, `was were war waren wars warn warns era erano fu était étaient c'était c'étaient etait c'etait fut fue fueron eran foi foram eram`},
		{wasHint, `came been had ran took lasted gave weighed ended stopped finished showed said put dosed
			lief liefen dauerte hatte kam kamen gab stand sagte zeigte genommen gewogen
			stata stato durato uscito usciti uscita uscite stava diceva segnava messo messi messa pesato
			duré coulé sorti sortis disait affichait mis pris pesé avait j'avais
			estaba tardó duró salió salieron daba decía marcaba puse metí pesé había
			estava tava deu demorou durou saiu saíram dava dizia marcava pus meti pesei tinha`},
		{wasHint | timeHint, `timed`},
		{wasHint | doseHint, `used usato usati usé usei utilisé dosato dosé dosei`},
		{makeHint, `make swap set replace change changed changing fix fixing correct edit update let's
			mach mache ändern ändere änder korrigier korrigiere korrigieren setz eintragen draus ersetze ersetzen
			metti mettere cambia correggi correggere sostituisci sostituire
			mets mettre change corrige corriger mettre remplace remplacer
			ponlo cámbialo cambiare mettilo pon poner cambia corrige corregir poner pongan reemplaza reemplazar sustituye
			põe pôr muda corrige corrigir mete substitui substituir troca`},
		{makeHint | shouldHint, `should shoud sould shoulda shld sollte sollten sollen hätte hätten müsste müssten dovrebbe dovrebbero deve devrait devraient debería deberían devia deviam`},
		{wrongHint, `wrong wrote typed mistyped meant ment misread typo entered noted logged write type say says said read reads recorded forgot
			vertippt verzählt verlesen vertan gemeint meinte geschrieben schrieb falsch falsche falscher getippt eingegeben notiert stimmt abgelesen gelesen verguckt
			sbagliato sbagliata sbagliati scritto scrivere volevo dire intendevo segnato letto male
			faux fausse mauvais mauvaise écrit voulais dire noté tapé trompé trompée trompé mal lu
			mal digo equivocado equivocada equivoqué escrito escribí quería decir puse anoté leí lei
			mal errei errado errada enganei escrevi queria dizer pus anotei li digitei enganei-me`},
		{lastHint, `nell'ultimo nell'ultima vorhin last shot one latest letzte letzter letzten letztes bezug ultimo ultima l'ultimo l'ultima dernier dernière último última estrazione extraction extracción extração`},
		{doseHint, `dose dosed dosing dosis einwaage rein drin sieb basket dry beans entra entrée entrata hinein eingewogen entran entrou entraram entraron entrato pó polvo eché eche dentro dosi dosis cestello portafiltro panier café-moulu filtro entrada`},
		{yieldHint, `yield yielded out beverage yeild yeld yiled oot cup output sale sai salen liquid raus ausbeute ertrag tasse fuori resa tazza usciti uscito rendement tasse sorti sortis rendimiento taza salieron salió fuera rendimento chávena xícara fora saíram saiu salida sortie saída xicara`},
		{timeHint, `time timer secodns secnds clock stopwatch ran took lasted zeit uhr stoppuhr lief dauerte timer tempo cronometro orologio durato temps chrono chronomètre duré coulé tiempo reloj cronómetro tardó duró relógio cronómetro demorou durou`},
		{dialHint, `dial grind grinder setting mill mahlgrad mühle einstellung gemahlen macinatura macinino ghiera regolazione mouture moulin réglage molienda molino ajuste moagem moinho regulação`},
		{massHint, `tare tared weighed weight scale scales weigh waage gewicht wog bilancia peso pesava balance poids báscula pesó balança pesou`},
		{lastHint | wasHint, `pulled gezogen gemacht fatto fatta tirato tiré fait sacado hecho tirei feito`},
		{lastHint, `pull made quello questa questo celui-là celui celle ese esa esto essa esse nesse nessa`},
		{softHint, `quello quella questo questa celui-là celui celle ese esa esto eso essa esse aquele aquela der das dieser diese`},
		{otherHint, `your yours his her their they he she dein deine euer ihr tuo tua suo sua ton ta votre son leur tus su sus teu tua seu sua
			two three four both shots ones zwei drei beide beiden due tre entrambi deux trois dos tres duas dois três ambas first before earlier previous yesterday tomorrow next another other
			erste erster ersten vorher gestern morgen nächste nächster andere anderer
			primo prima ieri domani prossimo prossima altro altra
			premier première avant hier demain prochain prochaine autre
			primero primera antes ayer mañana próximo próxima
			primeiro primeira antes ontem amanhã próximo próxima
			if try aim aiming recipe target usually always never every about around versuch rezept ziel immer se ricetta obiettivo sempre si recette objectif toujours receta objetivo siempre receita sempre
			comes coming arrives opens closes quid bucks pounds dollars pence cents cent min mins minutes minute o'clock minuten minuti minutos euro euros degrees grad gradi degrés grados graus percent bar bars tastes tasted taste schmeckt schmeckte sabe glasses table tisch tavolo mesa bus train till fridge people`},
		{turnHint, `is it's its grinder's ist è moved turned went back from then made set now currently stands stays gone going adjusted changed put took finer coarser
			gestellt gemacht gedreht jetzt nun steht feiner gröber gegangen verstellt
			messo spostato girato ora adesso sta regolato fine grosso
			réglé tourné mis maintenant est passé
			puesto movido girado ahora está ajustado
			posto movido rodado agora está ajustado pus`},
	} {
		for word := range strings.FieldsSeq(of.words) {
			all[word] |= of.hint
		}
	}
	return withoutAccents(all)
})
