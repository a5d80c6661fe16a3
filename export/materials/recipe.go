package materials

import (
	"fmt"
	"slices"

	"wallshoal/export/decimal"
	"wallshoal/wall"
)

// A Recipe is a material that is mixed of others by parts.
type Recipe struct {
	Name  string // of the material
	Parts []Part
	Step  decimal.Number // the finest that the maker measures, in g or ml; 0 is 1
}

// A Part is a material in a recipe.
type Part struct {
	Name  string
	Parts decimal.Number
}

// A Mix is one batch of a recipe.
type Mix struct {
	Volume Amount // at least what was asked for
	Part   Amount // of one part
	Parts  []Portion
}

// A Portion is how much of a material goes into a batch.
type Portion struct {
	Part
	Amount Amount
}

// Sum returns all parts together.
func (r Recipe) Sum() decimal.Number {
	sum := decimal.Number{}
	for _, p := range r.Parts {
		sum = sum.Add(p.Parts)
	}
	return sum
}

// Mix returns the least batch that is no less than need and has a whole number of measuring steps of
// every part: as one part grows by the least amount that keeps all of them whole, each batch, large or
// small, has exactly the proportions of the recipe.
func (r Recipe) Mix(need Amount) Mix {
	step := r.Step
	if step.Sign() <= 0 {
		step = decimal.Of(1)
	}
	// The least number of steps of one part with which all parts come out whole.
	grain := decimal.Of(1)
	whole := func() bool {
		return !slices.ContainsFunc(r.Parts, func(p Part) bool {
			n := p.Parts.Mul(grain)
			return n.Cmp(n.Ceil()) != 0
		})
	}
	for !whole() {
		grain = grain.Mul(decimal.Of(10)) // parts have six decimals at most
	}
	for _, d := range []int{2, 5} {
		for range decimal.MaxFraction {
			before := grain
			if grain = grain.Div(decimal.Of(d)); !whole() {
				grain = before
				break
			}
		}
	}
	unit := step.Mul(grain)
	times := need.Value.Div(r.Sum().Mul(unit)).Ceil()
	part := unit.Mul(times)
	m := Mix{Part: need.with(part), Volume: need.with(part.Mul(r.Sum()))}
	for _, p := range r.Parts {
		m.Parts = append(m.Parts, Portion{p, need.with(part.Mul(p.Parts))})
	}
	return m
}

func (r Recipe) check(field string, by map[string]Material, recipes []Recipe) []wall.Problem {
	var out []wall.Problem
	add := func(part, wrong, fix string) {
		out = append(out, wall.Problem{Field: field + part, Wrong: wrong, Fix: fix})
	}
	whole, known := by[r.Name]
	switch {
	case !known || whole.Per == PerRecipe:
		add(".name", fmt.Sprintf("%q is no material that the work takes", r.Name), "name one of materials that has per:")
		return out
	case whole.Pack.Value.Sign() > 0:
		add(".name", fmt.Sprintf("%q is mixed, and sold in packs as well", r.Name), "remove its pack, or the recipe")
	}
	twice := 0
	for _, other := range recipes {
		if other.Name == r.Name {
			twice++
		}
	}
	if twice > 1 {
		add(".name", fmt.Sprintf("%q has another recipe", r.Name), "keep one of them")
	}
	for i, p := range r.Parts {
		at := fmt.Sprintf(".parts[%d]", i)
		m, known := by[p.Name]
		switch {
		case p.Parts.Sign() < 0:
			add(at, p.Parts.String()+" parts are less than nothing", "give 0 or more")
		case !known:
			add(at, fmt.Sprintf("%q is no material", p.Name), "list it under materials")
		case slices.ContainsFunc(recipes, func(o Recipe) bool { return o.Name == p.Name }):
			add(at, fmt.Sprintf("%q is mixed itself", p.Name), "give its own parts here")
		case m.Per != PerRecipe && m.each().Base != whole.each().Base, m.Per == PerRecipe && m.Pack.Value.Sign() > 0 && m.Pack.Base != whole.each().Base:
			add(at, fmt.Sprintf("%q is not measured as %q is", p.Name, r.Name), "give weights throughout, or volumes")
		}
	}
	if len(out) == 0 && r.Sum().Sign() <= 0 {
		add(".parts", "the parts sum to nothing", "give at least one part above 0")
	}
	if r.Step.Sign() < 0 {
		add(".step", "is less than nothing", "give the finest that you measure, like 1 ml")
	}
	return out
}
