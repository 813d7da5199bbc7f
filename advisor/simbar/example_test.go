package simbar_test

import (
	"fmt"
	"strings"

	"shothand/advisor/simbar"
)

// A whole run: a barista with good habits dials in one coffee.
func Example() {
	w := simbar.New(simbar.Bars, 7)
	player := simbar.Habit()
	player.Start(w.Table())

	r := w.Table().Recipe
	fmt.Printf("%g g to %g g in %g-%g s\n", r.Dose, r.Yield, r.Low, r.High)
	setting := w.Table().Start
	for {
		shot := w.Pull(setting)
		move := player.Next(w.Shots())
		if move.Ask {
			shot = w.Ask()
			move = player.Next(w.Shots())
		}
		fmt.Printf("%g: %g g to %g g, %g s%s\n", shot.Grind, shot.Dose, shot.Yield, shot.Time, words(shot))
		if move.Keep {
			fmt.Println("kept; right:", w.Right(shot.Set))
			break
		}
		setting = move.Setting
	}
	// The same, counted.
	fmt.Println("shots:", simbar.Play(w, simbar.Habit()).Shots)
	// Output:
	// 19 g to 38 g in 27-31 s
	// 6: 18.9 g to 39.4 g, 15 s, sour thin
	// 5.9: 18.9 g to 38.7 g, 15 s, sour
	// 5.7: 18.9 g to 38.1 g, 17 s, ok
	// 5.7: 19 g to 37.6 g, 17 s, sour
	// 5.5: 19 g to 39.5 g, 20 s, sour, sour
	// 5.3: 18.9 g to 38.7 g, 20 s, balanced
	// kept; right: false
	// shots: 6
}

func words(s simbar.Shot) string {
	var text strings.Builder
	for _, t := range s.Tastings {
		text.WriteString(", " + strings.Join(t.Words, " "))
	}
	return text.String()
}
