package parse

// labelled takes a number with its place before it: "dose 18", "yield: 36",
// "in 28", "water 93".
func labelled(s *sheet, i int) int {
	t := s.at(i)
	place := label(t)
	if place == 0 {
		return 0
	}
	j := s.skip(i+1, ":", "=", "of", "was", "is")
	q, n := s.one(j)
	if n == 0 || t.is("ran") && s.isNumber(s.skip(j+n, "/", ">", "→", "-", ",")) { // "ran 18 36 30"
		return 0
	}
	if place == inPlace {
		place = timePlace
		if s.massIn(q, i, j, n) {
			place = dosePlace
		} else if (q.unit == noUnit || !t.is("in") && (q.unit != second || s.numbers < 3)) && len(s.items) == 0 && s.labels == 0 && !s.shot.Ratio.Said {
			return 0 // "in 5" begins no shot
		}
	}
	s.put(place, q)
	return j + n - i
}

// weighed takes what was put on the scale: "weighed 17.6 in", "pesati 17,6".
func weighed(s *sheet, i int) int {
	if !s.at(i).is(weighWords()...) {
		return 0
	}
	j := s.skip(i+1, "it", ",", ":", "in", "at", "and")
	q, n := s.one(j)
	if n == 0 || q.unit != noUnit && q.unit != gram {
		return 0
	}
	end := s.skip(j+n, "in", "rein", "dentro")
	p := label(s.at(j + n))
	switch r := s.recipe(); {
	case p == yieldPlace:
		end = j + n + 1
	case end == j+n && !s.at(j-1).is("in") && apart(q.vals[0], float64(r.Yield)) < apart(q.vals[0], float64(r.Dose)):
		p = yieldPlace
	default:
		p = dosePlace
	}
	s.put(p, q)
	return end - i
}

// weighWords say that something was weighed.
func weighWords() []string {
	return []string{"weighed", "gewogen", "eingewogen", "abgewogen", "pesato", "pesati", "pesé", "pesée", "pesés", "pesado", "pesados", "pesei"}
}

// massIn reports whether "in 18" is a dose and no time: it has a unit of mass,
// a colon, or "out" comes next.
func (s *sheet) massIn(q quantity, i, j, n int) bool {
	k := s.skip(j+n, ",", ";")
	return q.unit == gram || q.unit == ounce || j > i+1 || s.at(k).is("out") && s.isNumber(k+1)
}

// A place is where a number of a shot belongs.
type place int

const (
	dosePlace place = iota + 1
	yieldPlace
	timePlace
	waterPlace
	inPlace   // dose or time, by what stands around
	dialPlace // where the grinder stood
)

func label(t token) place {
	switch {
	case t.is("dose", "dose's", "dosed", "dosis", "einwaage", "rein", "dentro"):
		return dosePlace
	case t.is("yield", "yield's", "out", "yielded", "beverage", "raus", "fuori", "fuera", "fora", "resa", "ertrag", "ausbeute", "menge", "rendement", "rendimento", "rendimiento"):
		return yieldPlace
	case t.is("time", "time's", "ran", "tempo", "zeit", "temps", "tiempo"):
		return timePlace
	case t.is("water", "temp", "temperature"):
		return waterPlace
	case t.is("in", "en", "em"):
		return inPlace
	}
	return 0
}

// put gives q the place that was said.
func (s *sheet) put(p place, q quantity) {
	switch p {
	case dosePlace:
		n, ok := q.dose()
		s.set(&s.shot.Dose, n, ok)
	case yieldPlace:
		n, ok := q.yield()
		s.set(&s.shot.Yield, n, ok)
		s.shot.Volume = q.unit == millilitre || q.unit == fluidOunce || q.unit == ounce
	case timePlace:
		n, ok := q.time()
		s.set(&s.shot.Time, n, ok)
	case waterPlace:
		n, ok := q.water()
		s.set(&s.shot.Water, n, ok)
	case inPlace, dialPlace: // settled by labelled and by grind
	}
	s.strong = s.strong || s.shot.Dose.Said && s.shot.Yield.Said
}

// outOf takes a yield and the dose it came from: "34.5 from 18", "36 out of 18", "40 in 27
// from 19.5".
func outOf(s *sheet, i int) int {
	y, n := s.one(i)
	j := s.skip(i+n, "g", "out")
	var time quantity
	if k := s.skip(j, "in"); k > j {
		if t, m := s.one(k); m > 0 && aShot(t.vals[0]) && (t.unit == noUnit || t.unit == second) && !s.shot.Time.Said {
			time, j = t, k+m
		}
	}
	if n == 0 || !s.at(j).is("from", "of", "aus") || s.at(j).is("of") && !s.at(j-1).is("out") {
		return 0
	}
	d, m := s.one(j + 1)
	if m == 0 || !typical([]float64{d.vals[0], y.vals[0], 30}) || apart(d.vals[0], float64(s.recipe().Dose)) > 4*doseStray || s.shot.Dose.Said || s.shot.Yield.Said {
		return 0
	}
	if len(time.vals) > 0 {
		s.put(timePlace, time)
	}
	s.put(yieldPlace, y)
	s.put(dosePlace, d)
	return j + 1 + m - i
}

// inMinutes takes the time of a shot whose dose and yield were said: "18 to 36 in 5
// minutes", "18 36 1 min 10 s".
func inMinutes(s *sheet, i int) int {
	j := s.skip(i, "in", "en", "em", "for", "after")
	minute := []string{"min", "mins", "minute", "minutes", "minuten", "minuto", "minuti", "minutos"}
	half := s.skip(j, "half", "a")
	t := s.at(j)
	switch {
	case s.count()+s.said() != 2 || s.shot.Time.Said:
		return 0
	case s.at(j).is("half") && s.at(half).is(minute...):
		s.put(timePlace, quantity{vals: []float64{30}, unit: second})
		return half + 1 - i
	case t.num.form != plainForm || !s.at(j+1).is(minute...):
		return 0
	}
	time, end := 60*t.num.vals[0], s.skip(j+2, "and", "und", "e", "y", "et", ",")
	rest, n := s.one(end)
	if n == 0 || rest.vals[0] >= 60 || rest.unit != second && rest.unit != noUnit {
		end, n = j+2, 0
	} else {
		time += rest.vals[0]
	}
	s.put(timePlace, quantity{vals: []float64{time}, unit: second})
	return end + n - i
}

// numberOf takes a number, with its place behind it if it has one: "18 in",
// "36 g out", "93C". A number without becomes an item.
func numberOf(s *sheet, i int) int {
	q, n := s.quantity(i)
	if n == 0 {
		return 0
	}
	if len(q.vals) == 1 {
		if p, more := s.placeAfter(q, i+n); p != 0 {
			s.put(p, q)
			return n + more
		}
	}
	s.items = append(s.items, item{quantity: q, from: i, to: i + n})
	return n
}

// placeAfter tells the place that stands behind a number, and its length.
func (s *sheet) placeAfter(q quantity, j int) (place, int) {
	side, n := s.sideBehind(j)
	switch t := s.at(j); {
	case q.unit == celsius || q.unit == fahrenheit:
		return waterPlace, s.skip(j, "water") - j
	case side != 0:
		return side, n
	case t.is("out", "yield", "raus", "fuori", "fuera", "fora", "dehors"):
		return yieldPlace, 1
	case t.is("dose", "rein", "dentro", "dedans", "eingewogen"):
		return dosePlace, 1
	case t.is("in") && q.unit != second && (len(s.items) == 0 || q.unit == gram || s.outBehind(j+1)) && s.doseIn(j+1):
		return dosePlace, 1
	}
	return 0, 0
}

// sideBehind tells which side of the machine the words at j name: "18 de entrada 36 de salida",
// "38 in the cup", "17,5 di dose"; and how many they are.
func (s *sheet) sideBehind(j int) (place, int) {
	k := s.skip(j, "di", "de", "da", "in", "en", "em", "the", "der", "la")
	switch t := s.at(k); {
	case k > j && t.is("dose", "dosis"), t.is("entrada", "entrata", "entrée"):
		return dosePlace, k + 1 - j
	case k > j && t.is("cup", "tasse", "tazza", "taza", "xícara", "chávena"), t.is("salida", "saída", "uscita", "sortie"):
		return yieldPlace, k + 1 - j
	}
	return 0, 0
}

// doseIn reports whether an "in" before token j ends a dose, "18 in, 36 out",
// and does not begin a time, "36 in 28".
func (s *sheet) doseIn(j int) bool {
	q, n := s.quantity(j)
	if n == 0 {
		return !s.at(j).is("total", "all", "stock", "town", "there", "the")
	}
	return s.at(j+n).is("out") || q.unit == gram || s.at(j+n).is("in") && s.isNumber(j+n+1)
}

// outBehind reports whether what came out stands at token j: "5.1 18 in 36 out".
func (s *sheet) outBehind(j int) bool {
	_, n := s.one(j)
	return n > 0 && s.at(j+n).is("out")
}

func (s *sheet) isNumber(i int) bool { return s.at(i).kind == numberToken }

// initials takes "d18", "y 36" and "t:25", where at least two such stand in the
// message.
func initials(s *sheet, i int) int {
	p, j := s.initial(i)
	if p == 0 {
		return 0
	}
	others := false
	for k := range s.tokens {
		if k < i || k > j {
			other, _ := s.initial(k)
			others = others || other != 0 && other != p
		}
	}
	q, n := s.one(j)
	if n == 0 || !others && s.labels == 0 {
		return 0
	}
	s.put(p, q)
	return j + n - i
}

// initial tells the place that a single letter before a number stands for, and
// where the number is.
func (s *sheet) initial(i int) (place, int) {
	if i < 0 || i >= len(s.tokens) {
		return 0, 0
	}
	p := map[string]place{"d": dosePlace, "y": yieldPlace, "t": timePlace}[s.tokens[i].low]
	j := i + 1
	for j < len(s.tokens) && s.tokens[j].is(":", "=") {
		j++
	}
	if p == 0 || j >= len(s.tokens) || s.tokens[j].kind != numberToken {
		return 0, 0
	}
	return p, j
}

// soaked takes "preinfusion 8", "8 s preinfusion": no place is kept for it, and
// it is none of the shot's numbers.
func soaked(s *sheet, i int) int {
	word := func(i int) int {
		switch {
		case s.at(i).is("preinfusion", "pre-infusion", "preinfused", "pre-infused", "preinf", "pi", "soak", "soaked", "bloom", "bloomed", "ramp"):
			return 1
		case s.at(i).is("pre") && s.at(i+1).is("infusion", "infused"):
			return 2
		case s.at(i).is("pre") && s.at(i+1).is("-") && s.at(i+2).is("infusion", "infused"):
			return 3
		}
		return 0
	}
	end := 0
	if n := word(i); n > 0 {
		j := s.skip(i+n, "of", ":", "=", "for", "was", "at", "time", "about")
		if _, m := s.one(j); m > 0 {
			end = j + m
		}
	} else if _, m := s.one(i); m > 0 {
		j := s.skip(i+m, "of")
		n := word(j)
		if _, more := s.one(s.skip(j+n, "of", ":", "=", "for", "was", "at", "time", "about")); n > 0 && more == 0 && s.count()+s.said() > 0 {
			end = j + n
		}
	}
	if end == 0 {
		return 0
	}
	s.shot.Aside = append(s.shot.Aside, s.text[s.tokens[i].start:s.tokens[end-1].end()])
	return end - i
}
