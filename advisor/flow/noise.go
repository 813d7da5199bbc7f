package flow

// A Noise is what is believed of how far apart shots of one setting run: the
// variance of log time, and how many shots stand behind it.
type Noise struct{ Variance, Shots float64 }

// usualNoise is the noise of a bar nobody has seen a shot of: 5 %, as sure as
// three shots would make it. Two published campaigns find 6 % (Smrke 2024,
// Waszkiewicz 2025), of doses and yields that were not put right; the weight is
// assumed.
func usualNoise() Noise { return Noise{Variance: 0.050 * 0.050, Shots: 3} }

// next returns the variance to foretell one shot with: larger than what is
// believed, for what so few shots cannot know of it.
func (n Noise) next() float64 { return n.Variance * (1 + 2/n.Shots) }

// A surprise is what one shot says of the noise: how much of its error was
// noise, squared, and by how much its error was larger than it was expected to
// be, as a variance.
type surprise struct{ share, excess float64 }

// surprised returns the surprise of an error e of variance v, of which noise
// is the part that the shots of one setting scatter by.
func surprised(e, v, noise float64) surprise {
	r := noise / v
	return surprise{r * r, r * r * (e*e - v)}
}

// learn moves n by a surprise: one step of Fisher's scoring, by which a shot
// that says little of the noise moves it little.
func (n *Noise) learn(s surprise) {
	n.Shots += s.share
	n.Variance = max(n.Variance+s.excess/n.Shots, leastNoise*leastNoise)
}

// leastNoise is the sd that no bar is better than.
const leastNoise = 0.025
