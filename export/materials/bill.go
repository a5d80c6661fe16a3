package materials

import (
	"fmt"
	"slices"
	"strings"

	"wallshoal/export/decimal"
	"wallshoal/wall"
)

// Per is what a material is reckoned by.
type Per string

// What materials can be reckoned by.
const (
	PerPiece       Per = "piece"        // to make
	PerHole        Per = "hole"         // of the pieces placed
	PerSquareMetre Per = "square metre" // of the pieces to make
	PerSheet       Per = "sheet"        // that pieces are cut from
	PerPage        Per = "page"         // of the hole map, as it is put up
	PerJob         Per = "job"
	PerRecipe      Per = "" // only as a part of recipes
)

// Pers returns everything that a material can be reckoned by, as plans name it.
func Pers() []Per { return []Per{PerPiece, PerHole, PerSquareMetre, PerSheet, PerPage, PerJob} }

// A Material is something that pieces take.
type Material struct {
	Name   string
	Per    Per
	Of     []string        // codes of kinds, or names of stocks for sheets; all where empty
	Batch  int             // so many at a time: an amount is for one batch; 0 for one by one
	Amount Amount          // for one
	Coat   decimal.Number  // in place of an amount: the thickness of a coat in mm, over an area
	Sides  int             // of a piece that are coated: 1 or 2; 0 is 1
	Waste  decimal.Number  // share of the amount that is lost and has to be there too
	Hand   Amount          // what is in hand
	Pack   Amount          // what it is sold by; none where it is sold by any amount
	Price  *decimal.Number // of a pack; nil where not known
}

// each returns the amount for one unit. A mm over a square metre is 1000 ml.
func (m Material) each() Amount {
	if m.Coat.Sign() > 0 {
		return Amount{m.Coat.Mul(decimal.Of(1000)), Millilitre}
	}
	return m.Amount
}

// A Line is how much of a material the work takes, and what to buy.
type Line struct {
	Material Material
	Units    decimal.Number // pieces, holes, m², sheets, pages, batches or jobs
	Net      Amount
	Gross    Amount          // with waste, and what recipes take
	Buy      Amount          // beyond what is in hand
	Packs    int             // 0 where it is sold by any amount, or mixed
	Left     Amount          // in hand once all is done
	Cost     *decimal.Number // of the packs, exactly; nil where not known
	Mixed    *Mix            // of a recipe; nothing is then bought under its own name
}

// Counts is what there is for materials to be reckoned by.
type Counts struct {
	Pieces []Piece
	Sheets map[string]int // by the name of the stock
	Pages  int            // of the hole map
}

// Bill returns how much of everything the work takes. Materials and recipes have passed Check.
func Bill(list []Material, recipes []Recipe, counts Counts) []Line {
	out := make([]Line, len(list))
	by := map[string]int{}
	for i, m := range list {
		by[m.Name] = i
		l := &out[i]
		l.Material, l.Units = m, counts.units(m)
		l.Net = m.each().with(m.each().Value.Mul(l.Units))
		if m.Per == PerRecipe {
			l.Net.Base = m.Pack.Base
		}
		l.Gross = l.Net.with(l.Net.Value.Mul(decimal.Of(1).Add(m.Waste)))
	}
	for _, r := range recipes {
		l := &out[by[r.Name]]
		need := decimal.Max(decimal.Number{}, l.Gross.Value.Sub(l.Material.Hand.Value))
		l.Mixed = new(r.Mix(l.Gross.with(need)))
		for _, p := range l.Mixed.Parts {
			part := &out[by[p.Name]]
			part.Gross.Value = part.Gross.Value.Add(p.Amount.Value.Mul(decimal.Of(l.Mixed.Batches)))
			part.Gross.Base = p.Amount.Base
		}
	}
	for i := range out {
		out[i].buy()
	}
	return out
}

// buy rounds what is missing up to whole packs.
func (l *Line) buy() {
	zero := decimal.Number{}
	hand := l.Material.Hand.Value
	missing := decimal.Max(zero, l.Gross.Value.Sub(hand))
	l.Buy = l.Gross.with(missing)
	got := missing
	switch pack := l.Material.Pack.Value; {
	case l.Mixed != nil:
		l.Buy.Value, got = zero, l.Mixed.Volume.Value
	case pack.Sign() > 0:
		packs := missing.Div(pack).Ceil()
		l.Packs, got = packs.Int(), packs.Mul(pack)
		if l.Material.Price != nil {
			l.Cost = new(packs.Mul(*l.Material.Price))
		}
	}
	l.Left = l.Gross.with(hand.Add(got).Sub(l.Gross.Value))
}

func (c Counts) units(m Material) decimal.Number {
	sum := decimal.Number{}
	wanted := func(name string) bool { return len(m.Of) == 0 || slices.Contains(m.Of, name) }
	for _, p := range c.Pieces {
		if !wanted(p.Code) {
			continue
		}
		switch m.Per {
		case PerPiece:
			sum = sum.Add(decimal.Of(p.Make))
		case PerHole:
			sum = sum.Add(decimal.Of(p.Placed * p.Holes))
		case PerSquareMetre:
			sum = sum.Add(p.area().Mul(decimal.Of(p.Make * max(1, m.Sides))))
		}
	}
	switch m.Per {
	case PerSheet:
		for name, n := range c.Sheets { // a sum of whole numbers, in whatever order
			if wanted(name) {
				sum = sum.Add(decimal.Of(n))
			}
		}
	case PerPage:
		sum = decimal.Of(c.Pages)
	case PerJob:
		sum = decimal.Of(1)
	}
	if m.Batch > 1 {
		sum = sum.Div(decimal.Of(m.Batch)).Ceil()
	}
	return sum
}

// Check returns what is wrong with materials and recipes, with fields as a plan names them.
func Check(list []Material, recipes []Recipe) []wall.Problem {
	var out []wall.Problem
	add := func(field, wrong, fix string) {
		out = append(out, wall.Problem{Field: field, Wrong: wrong, Fix: fix})
	}
	by := map[string]Material{}
	var others []string // what is not measured as the rest of its material is, and where it stands
	var first string
	for i, m := range list {
		field := fmt.Sprintf("materials[%d]", i)
		if _, twice := by[m.Name]; twice {
			add(field+".name", fmt.Sprintf("%q is the name of another material already", m.Name), "give each material a name of its own")
		}
		by[m.Name] = m
		base := m.each().Base
		if m.Per == PerRecipe {
			base = m.Pack.Base
		}
		for _, a := range []struct {
			key string
			Amount
		}{{"amount", m.Amount}, {"in hand", m.Hand}, {"pack", m.Pack}} {
			switch {
			case a.Value.Sign() < 0:
				add(field+"."+a.key, a.Value.String()+" is less than nothing", "give 0 or more")
			case a.Value.Sign() > 0 && a.Base != base:
				if first == "" {
					first = field + "." + a.key
					others = append(others, a.Amount.String()+" is not measured as the rest of it is, "+base.in())
				} else {
					others = append(others, fmt.Sprintf("nor is %s of %q, %s", a.Amount, m.Name, base.in()))
				}
			}
		}
		if m.Price != nil && (m.Price.Sign() < 0 || m.Pack.Value.Sign() == 0) {
			add(field+".price", "is a price of nothing that is sold, or below 0", "give what one pack costs, and how much is in it, under pack:")
		}
		if m.Per != PerRecipe && m.each().Value.Sign() == 0 {
			add(field+".amount", "takes nothing of it", "give the amount for one "+string(m.Per)+", like 35 g")
		}
	}
	if first != "" {
		add(first, strings.Join(others, "; "), "give weights, volumes, lengths or counts throughout; a coat is a volume")
	}
	for i, r := range recipes {
		out = append(out, r.check(fmt.Sprintf("recipes[%d]", i), by, recipes)...)
	}
	return append(out, unlike(by, recipes)...)
}
