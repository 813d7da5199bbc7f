package bar

// How long water takes to the first drip, in s. Common practice says 5 to 9;
// where nobody has timed it, 6.7 s in one study (Foster 2025). After a
// pre-infusion it comes a little later: common practice, no source.
const (
	wetting      = 7
	afterSoaking = 2
)

// Wetting returns how long the water of c takes to the first drip: by how much
// a clock that starts there shows less than one that starts with the pump.
func (c Coffee) Wetting() Seconds { return max(wetting, c.PreInfusion+afterSoaking) }

// RecipeFor returns the recipe of a shot of c: that for milk, where there is one
// and the shot was for it.
func (c Coffee) RecipeFor(m Marks) Recipe { return *RecipeOf(&c, m) }

// RecipeOf returns where c has that recipe.
func RecipeOf(c *Coffee, m Marks) *Recipe {
	if m.Has(InMilk) && c.Milk != (Recipe{}) {
		return &c.Milk
	}
	return &c.Recipe
}
