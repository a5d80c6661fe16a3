package plan

import (
	"slices"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/decimal"
	"wallshoal/export/materials"
	"wallshoal/scatter"
	"wallshoal/wall"
)

// SparesSection is how many pieces are made beyond those placed, of each kind.
//
//	share:  of those placed, like 5 %, rounded up; none if left out
//	least:  at least so many; 0 if left out
type SparesSection = materials.Spares

// MaterialSection is something that pieces take. Amounts are numbers with a unit: g, kg, oz, lb, ml, l,
// mm, cm, m, in, ft, or none where things are counted.
//
//	name:     needed
//	per:      piece and square metre (of those to make), hole (of those placed), sheet, page (of the hole map) or job; left out
//	          where it only goes into recipes
//	of:       a list of codes of kinds, or for sheets of their names; all if left out
//	batch:    so many at a time, as a kiln holds: the amount is for one batch
//	amount:   for one, like 35 g; or
//	coat:     with square metre, how thick a coat of it is, in mm whatever the plan's units
//	sides:    of a piece that are coated: 1 or 2; 1 if left out
//	waste:    what is lost besides, like 10 %; none if left out
//	in hand:  what there is already
//	pack:     how much is sold at a time
//	price:    of a pack
type MaterialSection = materials.Material

// RecipeSection is how a material is mixed of others.
//
//	name:   of the material; needed
//	parts:  a list, like - {name: white, parts: 4}; needed
//	step:   the finest that is measured, like 0.5 g; 1, of g or ml as the material is in, if left out
//	batch:  how much is mixed at a time, like 200 g: every part is then rounded to the nearest step; if left out all is
//	        mixed at once, in exactly these parts
type RecipeSection = materials.Recipe

const (
	maxMaterials = 100
	maxRecipes   = 50
	maxParts     = 30
	maxBatch     = 100_000
)

func (r *reader) spares(v yamlfile.Value) materials.Spares {
	var s materials.Spares
	m, ok := v.Map("share", "least")
	if !ok {
		return s
	}
	s.Share = readExactShare(m.Get("share"), "a share of spare pieces")
	s.Least, _ = m.Get("least").Whole("a number of spare pieces", 0, materials.MaxPieces)
	return s
}

// inHand reads how many pieces there are already, by their codes.
func (r *reader) inHand(v yamlfile.Value, kinds []scatter.Kind) map[string]int {
	m, ok := v.Map()
	if !ok {
		return nil
	}
	out := map[string]int{}
	for _, code := range m.Keys() {
		if !slices.ContainsFunc(kinds, func(k scatter.Kind) bool { return k.Code == code }) && !r.file.Faulty("pieces") {
			m.Get(code).Fault("is the code of no kind of piece", "write codes and numbers, like {A: 12}")
			continue
		}
		out[code], _ = m.Get(code).Whole("a number of pieces in hand", 0, materials.MaxPieces)
	}
	return out
}

// materials reads what pieces take and how it is mixed, and checks both.
func (r *reader) materials(v, mixed yamlfile.Value, kinds []scatter.Kind, stocks []SheetSection) ([]materials.Material, []materials.Recipe) {
	items, _ := v.List(maxMaterials, "a list of materials, each starting with a dash")
	list := make([]materials.Material, len(items))
	for i, item := range items {
		list[i] = r.material(item, kinds, stocks)
	}
	items, _ = mixed.List(maxRecipes, "a list of recipes, each starting with a dash")
	recipes := make([]materials.Recipe, len(items))
	for i, item := range items {
		recipes[i] = r.recipe(item)
	}
	for _, p := range materials.Check(list, recipes) {
		// A recipe can only be judged by materials that could be read.
		if p.Field[0] != 'r' || !r.file.Faulty("materials") {
			r.judge([]wall.Problem{p})
		}
	}
	return list, recipes
}

func (r *reader) material(v yamlfile.Value, kinds []scatter.Kind, stocks []SheetSection) materials.Material {
	var to materials.Material
	m, ok := v.Map("name", "per", "of", "batch", "amount", "coat", "sides", "waste", "in hand", "pack", "price")
	if !ok {
		r.file.Spoil(v.Field())
		return to
	}
	to.Name, _ = m.Get("name").Need("give each material a name").Text(maxTitle)
	per, ok := m.Get("per").ChoiceMeant("something to reckon by", perWords(), texts(materials.Pers())...)
	if to.Per = materials.Per(per); !ok && m.Get("per").Given() {
		r.file.Spoil(v.Field())
	}
	if of := m.Get("of"); to.Per == materials.PerSheet {
		to.Of = stockNames(of, stocks)
	} else {
		to.Of = r.codes(of, kinds)
		if of.Given() && (to.Per == materials.PerPage || to.Per == materials.PerJob || to.Per == materials.PerRecipe) {
			of.Fault("has no kinds to choose among", "remove it, or reckon per piece, hole or square metre")
		}
	}
	to.Batch, _ = m.Get("batch").Whole("a number at a time", 2, maxBatch)
	to.Amount = readAmount(m.Get("amount"))
	if coat := m.Get("coat"); coat.Given() {
		to.Coat, _ = readDecimal(coat, "a thickness in mm", "0.1")
		switch {
		case m.Get("amount").Given():
			coat.Fault("stands beside an amount", "keep one of them")
		case to.Per != materials.PerSquareMetre:
			coat.Fault("is only used with per: square metre", "remove it, or give an amount")
		}
	}
	sides := m.Get("sides")
	to.Sides, _ = sides.Whole("a number of sides", 1, 2)
	if sides.Given() && to.Per != materials.PerSquareMetre {
		sides.Fault("is only used with per: square metre", "remove it")
	}
	to.Waste = readExactShare(m.Get("waste"), "a share that is lost")
	to.Hand, to.Pack = readAmount(m.Get("in hand")), readAmount(m.Get("pack"))
	to.Price = readMoney(m.Get("price"))
	return to
}

// stockNames reads a list of names of what pieces are cut from.
func stockNames(v yamlfile.Value, stocks []SheetSection) []string {
	items, _ := v.List(maxStocks, "a list of names of sheets")
	var out []string
	for _, item := range items {
		name, ok := item.Text(maxTitle)
		if ok && !slices.ContainsFunc(stocks, func(s SheetSection) bool { return s.Name == name }) {
			item.Fault(yamlfile.Quote(name)+" is no stock of sheets", "write a name from under sheets:")
		}
		out = append(out, name)
	}
	return out
}

// readAmount reads an amount; none where there is none or a wrong one.
func readAmount(v yamlfile.Value) materials.Amount {
	text, ok := v.Text(maxTitle)
	if !ok {
		return materials.Amount{}
	}
	a, err := materials.ParseAmount(text)
	if err != nil || a.Value.Sign() < 0 {
		v.Fault(yamlfile.Quote(text)+" is not an amount", "write a number of 0 or more with its unit, like 35 g, 0.5 l or 12 m")
		return materials.Amount{}
	}
	return a
}

func (r *reader) recipe(v yamlfile.Value) materials.Recipe {
	to := materials.Recipe{Step: materials.Amount{Value: decimal.Of(1)}}
	m, ok := v.Map("name", "parts", "step", "batch")
	if !ok {
		r.file.Spoil(v.Field())
		return to
	}
	to.Name, _ = m.Get("name").Need("name the material that is mixed").Text(maxTitle)
	const like = "list the parts, like - {name: white, parts: 4}"
	items, ok := m.Get("parts").Need(like).List(maxParts, "a list of parts, like - {name: white, parts: 4}")
	if !ok {
		r.file.Spoil(v.Field())
	}
	for _, item := range items {
		var p materials.Part
		if part, ok := item.Map("name", "parts"); ok {
			p.Name, _ = part.Get("name").Need(like).Text(maxTitle)
			p.Parts, _ = readDecimal(part.Get("parts").Need(like), "a number of parts", "0.5")
		}
		to.Parts = append(to.Parts, p)
	}
	for _, a := range []struct {
		key, fix string
		to       *materials.Amount
	}{
		{"step", "give the finest that you measure, like 0.5 g", &to.Step},
		{"batch", "give how much is mixed at a time, like 200 g", &to.Batch},
	} {
		given := m.Get(a.key)
		if !given.Given() {
			continue
		}
		if *a.to = readAmount(given); a.to.Value.Sign() == 0 && !r.file.Faulty(given.Field()) {
			given.Fault("is nothing", a.fix)
		}
	}
	return to
}
