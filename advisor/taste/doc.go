// Package taste knows what words of taste say about a shot; lexicon.txt has the words
// of all six languages.
//
// A [Lexicon] is read from lexicon.txt, where each word has its kind, its
// loadings and the evidence for them. [Lexicon.Read] finds the words in a
// text; [Lexicon.Judge] weighs them.
//
// # The model
//
// A shot stands at extraction E and strength S, both in taste steps (1 is
// clearly noticeable), before any word E, S ~ N(0, 1). A taster hears E with a
// bias b ~ N(0, 0.5²) of his own. A word of degree d is said with probability
//
//	p(E, S, b) = logistic( α + β·(E+b) + γ·S − κ·d·(E²+S²) )
//	α = κ·d − √(β²+γ²)·(from + d − 1)
//
// so that a word that leans one way is said as often as not at from taste
// steps out, a "very" half a step further out and "a bit" half a step nearer,
// and a word of the centre within one step of it. One time in ten thousand a
// word is said, or not, whatever the cup: nothing is impossible. A denied word counts as
// 1 − p: "not too sour" denies only the far end and says little, "not sour at
// all" denies the near end and says more. A word that compares with the cup
// before speaks of the change, and counts as √p: half the evidence. A word that
// is not said counts for nothing, for nobody says all that is true of a cup.
//
// All this is multiplied out on a grid of 41 × 41 points from −3 to +3, the
// bias by three-point Gauss-Hermite quadrature for each taster. A measured
// extraction yield x enters as a normal likelihood with mean (x − target)/step
// and standard deviation sd/step; TDS likewise for strength.
//
// # Even and uneven beds
//
// An uneven bed runs under and over at once: its streams lie 2 taste steps to
// either side. There a word of one side is heard in the stream that fits it
// best (α + 2·|β|), a word of the centre must hold of both (|E| + 2). With M₀
// and M₁ the mean probabilities over the prior, even and uneven, each taster
// moves the log odds of an even bed by
//
//	log M₀(all words)/Π M₀(word) − log M₁(all words)/Π M₁(word)
//
// which is nothing for a single word, a little up for words that agree, and far
// down for sour beside bitter of one taster; two tasters who differ may differ
// in their bias or in their words, and count as no contradiction. To this the
// lexicon adds its own log odds ("channelled" −4, "clean" +0.6, times the
// degree; minus a third where denied). It begins at 0.93. The reading is the
// mixture of both beliefs, where words of an uneven bed count half, since they
// speak of its streams: sour and bitter together leave E near 0 and wide.
//
// # Evidence
//
// Directions follow published work on drip coffee where there is some: sour,
// bitter, astringent, roasted and body rise with strength, sweet falls; with
// extraction sour and citrus fall, bitter, astringent and roasted rise (Frost
// 2020 J Food Sci 85:2530; Guinard 2023 J Food Sci 88:2168, of which two
// summaries differ on sour against extraction). Other directions are common
// practice, no source. Every size is invented and may be edited; none was
// measured, and the published work was not done on espresso.
package taste
