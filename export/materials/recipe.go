package materials

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/decimal"
	"wallshoal/wall"
)

// A Recipe is a material that is mixed of others by parts.
type Recipe struct {
	Name  string // of the material
	Parts []Part
	Step  Amount // the finest that the maker measures; 0 is 1, of whatever unit the material is in
	Batch Amount // how much is mixed at a time; 0 where all is mixed at once, in exact proportions
}

// A Part is a material in a recipe.
type Part struct {
	Name  string
	Parts decimal.Number
}

// A Mix is what is mixed by a recipe, in batches that are all alike.
type Mix struct {
	Need    Amount // what was asked for
	Volume  Amount // of all batches, at least that
	Batches int    // 0 where nothing is needed
	Batch   Amount // one of them
	Parts   []Portion
	Step    Amount // in which it is measured
}

// A Portion is how much of a material goes into a batch.
type Portion struct {
	Part
	Amount Amount
	Off    decimal.Number // share of it that it is more than the recipe has it, below 0 less; 0 where no batch was asked for
}

// Over returns how much of the mix is beyond what was asked for.
func (m Mix) Over() Amount { return m.Volume.with(m.Volume.Value.Sub(m.Need.Value)) }

// Wasteful reports whether more is left over than is needed.
func (m Mix) Wasteful() bool { return m.Over().Value.Cmp(m.Need.Value) > 0 }

// Worst returns the portion that is furthest off its part; false where all are exact.
func (m Mix) Worst() (worst Portion, off bool) {
	for _, p := range m.Parts {
		if off = off || p.Off.Sign() != 0; p.Off.Abs().Cmp(worst.Off.Abs()) > 0 {
			worst = p
		}
	}
	return worst, off
}

// Sum returns all parts together.
func (r Recipe) Sum() decimal.Number {
	sum := decimal.Number{}
	for _, p := range r.Parts {
		sum = sum.Add(p.Parts)
	}
	return sum
}

// Mix returns what to mix of a recipe so that it is no less than need. Where the recipe says how much a batch
// is, as many batches as it takes, with every part rounded to the nearest measuring step, and at least one;
// each part says how far that puts it off. Otherwise one batch, the least that has a whole number of measuring
// steps of every part in exactly the proportions of the recipe.
func (r Recipe) Mix(need Amount) Mix {
	m := Mix{Need: need, Step: need.with(decimal.Of(1))}
	if r.Step.Value.Sign() > 0 {
		m.Step.Value = r.Step.Value
	}
	switch {
	case need.Value.Sign() <= 0:
		m.Batch, m.Volume = need.with(decimal.Number{}), need.with(decimal.Number{})
		return m
	case r.Batch.Value.Sign() > 0:
		r.rounded(&m)
	default:
		r.exact(&m)
	}
	m.Volume = need.with(m.Batch.Value.Mul(decimal.Of(m.Batches)))
	return m
}

// rounded mixes batches of the size that the recipe asks for.
func (r Recipe) rounded(m *Mix) {
	sum := r.Sum()
	for _, p := range r.Parts {
		exact := r.Batch.Value.Mul(p.Parts).Div(sum)
		steps := exact.Div(m.Step.Value).Round(0)
		if p.Parts.Sign() > 0 {
			steps = decimal.Max(steps, decimal.Of(1))
		}
		m.Parts = append(m.Parts, Portion{Part: p, Amount: m.Need.with(steps.Mul(m.Step.Value))})
		m.Batch = m.Need.with(m.Batch.Value.Add(steps.Mul(m.Step.Value)))
	}
	for i, p := range m.Parts {
		if p.Parts.Sign() > 0 {
			m.Parts[i].Off = p.Amount.Value.Div(m.Batch.Value).Div(p.Parts.Div(sum)).Sub(decimal.Of(1))
		}
	}
	m.Batches = m.Need.Value.Div(m.Batch.Value).Ceil().Int()
}

// exact mixes one batch in exactly the proportions of the recipe.
func (r Recipe) exact(m *Mix) {
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
	unit := m.Step.Value.Mul(grain)
	part := unit.Mul(m.Need.Value.Div(r.Sum().Mul(unit)).Ceil())
	m.Batches, m.Batch = 1, m.Need.with(part.Mul(r.Sum()))
	for _, p := range r.Parts {
		m.Parts = append(m.Parts, Portion{Part: p, Amount: m.Need.with(part.Mul(p.Parts))})
	}
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
		_, known := by[p.Name]
		switch {
		case p.Parts.Sign() < 0:
			add(at, p.Parts.String()+" parts are less than nothing", "give 0 or more")
		case !known:
			add(at, fmt.Sprintf("%q is no material", p.Name), "list it under materials")
		case slices.ContainsFunc(recipes, func(o Recipe) bool { return o.Name == p.Name }):
			add(at, fmt.Sprintf("%q is mixed itself", p.Name), "give its own parts here")
		}
	}
	if len(out) == 0 && r.Sum().Sign() <= 0 {
		add(".parts", "the parts sum to nothing", "give at least one part above 0")
	}
	for _, a := range []struct {
		key string
		Amount
	}{{"step", r.Step}, {"batch", r.Batch}} {
		base := whole.each().Base
		like := "like 1 " + string(base)
		switch {
		case a.Value.Sign() < 0:
			add("."+a.key, "is less than nothing", "give a number above 0, "+like)
		case a.Base != Count && a.Base != base:
			add("."+a.key, a.Amount.String()+" is not measured as "+r.Name+" is, "+base.in(), "give it "+base.in())
		}
	}
	return out
}

// unlike returns the recipes that mix what is not measured alike, weights with volumes say: all of them at
// once, at the place of the first.
func unlike(by map[string]Material, recipes []Recipe) []wall.Problem {
	var first string
	var mixed []string
	for i, r := range recipes {
		whole, known := by[r.Name]
		if !known || whole.Per == PerRecipe {
			continue
		}
		var of []string
		for j, p := range r.Parts {
			m, known := by[p.Name]
			base := m.each().Base
			if m.Per == PerRecipe {
				base = m.Pack.Base
			}
			if !known || base == whole.each().Base || m.Per == PerRecipe && m.Pack.Value.Sign() == 0 {
				continue
			}
			if first == "" {
				first = fmt.Sprintf("recipes[%d].parts[%d]", i, j)
			}
			of = append(of, fmt.Sprintf("%q (%s)", p.Name, base.name()))
		}
		if len(of) > 0 {
			mixed = append(mixed, fmt.Sprintf("%q (%s) is mixed of %s", r.Name, whole.each().Base.name(), strings.Join(of, ", ")))
		}
	}
	if len(mixed) == 0 {
		return nil
	}
	return []wall.Problem{{Field: first, Wrong: "these are not measured alike: " + strings.Join(mixed, "; "),
		Fix: "give weights throughout, or volumes; a coat is a volume, so for a dry recipe give an amount for one square metre, like 300 g, in its place"}}
}
