// Package simbar simulates espresso bars, so that advice can be measured on
// bars whose truth is known, and plays the usual rules of thumb on them.
//
// It shares no code with the advisor: nothing here is what the advisor
// believes, and a mistake made there is not made here again.
//
// # Worlds
//
// A [World] is one coffee on one grinder in one bar. A [Player] sees its
// [Table], orders settings and gets [Shot] values back as a bar would report
// them. Worlds come in rows, and a world is made from its row and its index
// alone. The dice of the nth shot do not depend on what was ordered, so all
// players meet the same noise.
//
// # Rows of the family
//
// The rows of [FamilyRows] obey
//
//	log t = log 28 s + off + walk + b·x + c·log(dose/ref) + d·log(yield/ref) + noise
//
// with x the effective grind in steps, a share of the setting before left in
// it. They are the family that a filter on log time is built on. Right is a
// steady time within 2 s of 28 s.
//
// # Rows of bars
//
// The rows of [BarRows] are not: time is wetting plus a pour that need not be
// exponential in the grind, a bed channels beyond a fineness, and right is a
// matter of taste. Their extraction, all of it a simplification of ours:
//
//		EY   = EY(1:2, 28 s) · W(ratio)/W(2) + k·ln(t/28 s),  W(r) = 1 - exp(-r/0.874)
//		TDS  = EY · dose/yield
//		risk = base + (1-base)/(1 + exp(-(z - edge)/0.07))
//
//	  - W is the wash-out of an exponential outlet concentration, λ 17.47 g for
//	    20 g of coffee (Schmieder 2023 Foods 12:2871).
//	  - k is 2.0 to 3.7 points per log of time: 1.96 in Smrke 2024 Sci Rep
//	    14:5612, 3.69 in Egidi 2024 Chaos Solitons Fractals 188:115625 (both by
//	    regression on their tables). t is the time at the recipe's yield.
//	  - z is the fineness, in shares of the pour. A channelled shot loses a
//	    fifth of its extraction or so. Width and loss are about what makes the
//	    mean fall short of an even bed by 2.6, 6.1 and 13.1 % at times 2.3 s
//	    apart (Cameron 2020 Matter 2:631, as transcribed). Where the edge lies
//	    is assumed, and so is that a channelled shot runs faster.
//	  - A taste step is 1.1 points of extraction, what two single shots must
//	    differ by (from the scatter of 0.41 points in Smrke 2024), and 20 % of
//	    strength (a threshold of 0.24 % at 1.2 % TDS in filter coffee, Frost 2019
//	    J Food Sci). That both carry over to espresso as one clear step is
//	    assumed.
//	  - Shots scatter by about 6 % in time (Smrke 2024; Waszkiewicz 2025) and
//	    2 % in extraction. Wetting takes 5 to 9 s (6.7 s in Foster 2025 Phys
//	    Fluids 37:013383).
//	  - Retention is a well-mixed hold-up of R grams. How large R is nobody has
//	    published; 0.3 to 4 g is assumed.
//	  - Which words are said of what, people's bias and how often they say
//	    nothing are assumed. Directions follow Guinard 2023 J Food Sci 88:2168
//	    and Frost 2020 J Food Sci 85:2530: both sour and bitter rise with
//	    strength.
package simbar
