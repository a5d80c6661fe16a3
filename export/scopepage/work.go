package scopepage

import (
	"cmp"
	"fmt"
	"math"

	"wallshoal/export/draw"
	"wallshoal/export/hours"
	"wallshoal/export/nesting"
	"wallshoal/export/number"
	"wallshoal/export/scope"
	"wallshoal/wall/plane"
)

// title writes the head of the first page.
func (b *book) title() {
	left, right, width := b.body.Min.X, b.body.Max.X, b.body.Width()
	b.fitted(left, top-1, draw.Letter70, cmp.Or(b.scope.Title, "A work without a title"), width, draw.Text{Bold: true})
	b.say(left, top+7, draw.Letter35, "Scope: what it takes, what it costs, and by when", draw.Text{})
	date := ""
	if !b.work.Date.IsZero() {
		date = b.work.Date.Format("2006-01-02")
	}
	b.y = top + 12.5
	b.fitted(left, b.y, draw.Letter25, joined(b.work.For, b.work.Place), width*0.6, draw.Text{Colour: quiet})
	b.fitted(right, b.y, draw.Letter25, joined(b.work.By, date), width*0.38, draw.Text{Colour: quiet, Align: draw.Right})
	b.y += 3
	b.line(left, b.y, right, b.y, edge)
	b.y += 2
}

func joined(one, two string) string {
	if one == "" || two == "" {
		return one + two
	}
	return one + " · " + two
}

// A fact is a figure that matters most, with what it is.
type fact struct{ figure, says, more string }

// short shows what one wants to know first, and whether it can be agreed to.
func (b *book) short() {
	s := b.scope
	facts := []fact{
		{number.Whole(s.Holes), "holes to drill", "fingerprint " + s.Fingerprint},
		{number.Whole(s.Pieces), "pieces", fmt.Sprintf("on %s", number.Of(len(s.Faces), "face"))},
	}
	m := s.Making
	if m != nil && m.Hours != nil {
		h := m.Hours
		facts = append(facts, fact{hours.Clock(h.Expected), "of work", "from " + hours.Clock(h.Low) + " to " + hours.Clock(h.High)})
	}
	if m != nil && m.Cost != nil {
		c := m.Cost
		facts = append(facts, fact{c.Currency.Show(c.Total.Likely), "in all", "from " + c.Currency.Show(c.Total.Low) + " to " + c.Currency.Show(c.Total.High)})
	}
	if n := s.Pressing(); n > 0 {
		facts = append(facts, fact{fmt.Sprint(n), "to settle", "cautions, before the first hole"})
	}
	const gap, tall = 5.0, 18.5
	width := (b.body.Width() - gap*float64(len(facts)-1)) / float64(len(facts))
	for i, f := range facts {
		x := b.body.Min.X + float64(i)*(width+gap)
		b.fitted(x, b.y+6.5, draw.Letter50, f.figure, width, draw.Text{Bold: true})
		b.fitted(x, b.y+10.2, textHeight, f.says, width, draw.Text{})
		for n, l := range (draw.Text{Say: f.more, Height: draw.Letter18}).Wrap(width) {
			b.say(x, b.y+13.6+float64(n)*smallPitch, draw.Letter18, l, draw.Text{Colour: quiet})
		}
	}
	b.y += tall
	b.line(b.body.Min.X, b.y, b.body.Max.X, b.y, hair)
	b.y += 3
	if m == nil {
		return
	}
	if m.Days != nil {
		b.para(paragraph{lead: verdict(*m.Days), text: m.Days.Text})
	}
	if m.Cost != nil {
		if text, over := m.Cost.Verdict(); over {
			b.para(paragraph{lead: "Over the budget:", text: text + "."})
		} else if text != "" {
			b.para(paragraph{lead: "Within the budget:", text: text + "."})
		}
	}
	for _, missing := range m.Missing {
		b.para(paragraph{lead: "To be given:", text: missing})
	}
}

// verdict says in a word or two how the days stand.
func verdict(d scope.Days) string {
	switch {
	case d.Fits == nil:
		return "Days:"
	case *d.Fits:
		return "In time:"
	}
	return "Not in time:"
}

// wall lists what the walls get.
func (b *book) wall() {
	s := b.scope
	walls := &grid{Table: s.WallTable(b.work.Units)}
	b.section("What the wall gets", leadRoom, walls)
	text := fmt.Sprintf("for %s on %s.", number.Of(s.Pieces, "piece"), number.Of(len(s.Faces), "face"))
	if s.Holes > 0 {
		text += fmt.Sprintf(" Together they open %s of the surface.", scope.Opened(b.work))
	}
	b.para(paragraph{lead: number.Of(s.Holes, "hole"), text: text})
	b.grid(walls)
	b.abreast(named{"What is drilled", scope.DrillTable(b.work)}, named{"Fixings, one for every hole; no spares are counted", s.FixingTable()})
}

// pieces lists what is to be made, with the outline of each kind.
func (b *book) pieces() {
	s := b.scope
	b.heading("Pieces", 40)
	if s.Making != nil {
		g := b.shaped(s.Making.PieceTable())
		b.under("To make", b.keep(g))
		b.grid(g)
		b.headed("Pieces and holes that are placed", s.KindTable())
	} else {
		b.grid(b.shaped(s.KindTable()))
	}
	if where := s.WhereTable(); len(where.Rows) > 0 {
		b.headed("Where they hang", where)
	}
}

// shaped returns a table of kinds, in the order of the plan, with the outline of each: all to one scale.
func (b *book) shaped(t scope.Table) *grid {
	const width, tall = 20.0, 7.0
	g := &grid{Table: t, wide: width, tall: tall}
	scale := math.Inf(1)
	for _, k := range b.work.Kinds {
		box := k.Outline.Bounds()
		scale = min(scale, width/box.Width(), (tall-1)/box.Height())
	}
	g.picture = func(row int, area plane.Rect) {
		if row >= len(b.work.Kinds) {
			return
		}
		k := b.work.Kinds[row]
		centre := k.Outline.Bounds().Centre()
		at := func(p plane.Point) plane.Point {
			return plane.Point{X: area.Centre().X + (p.X-centre.X)*scale, Y: area.Centre().Y - (p.Y-centre.Y)*scale}
		}
		b.Polygon([]plane.Ring{k.Outline.Map(at)}, draw.Paint{Fill: draw.Solid(draw.Grey(225)), Stroke: thin})
		for _, h := range k.Holes {
			b.Circle(at(h.At), 0.35, draw.Paint{Fill: draw.Solid(draw.Black)})
		}
	}
	return g
}

// sheets lists the sheets of the hole map.
func (b *book) sheets() {
	if len(b.scope.Sheets) == 0 {
		return
	}
	g := &grid{Table: b.scope.SheetTable()}
	b.section("The hole map", leadRoom, g)
	b.para(paragraph{text: scope.SheetWords(b.scope.Sheets[0].Paper, b.work.Units)})
	b.grid(g)
}

// stands lists the places from which the work is hung.
func (b *book) stands() {
	if len(b.scope.Stands) == 0 {
		return
	}
	g := &grid{Table: b.scope.StandTable(b.work.Units)}
	b.section("Where one stands", leadRoom, g)
	b.para(paragraph{text: scope.StandWords})
	b.grid(g)
}

// stocks lists the sheets that pieces are cut from, and shows each way of cutting them.
func (b *book) stocks() {
	m := b.scope.Making
	if m == nil || len(m.Sheets) == 0 {
		return
	}
	b.heading("Sheets to cut", 60)
	b.table(m.StockTable(b.work.Units))
	var all []cutting
	for i, s := range m.Sheets[:min(len(m.Sheets), len(b.made.Nests))] {
		for k, c := range s.Cuts {
			all = append(all, cutting{b.made.Nests[i], b.made.Nests[i].Sheets[k], c, s.Name})
		}
	}
	for len(all) > 0 {
		n := min(nestColumns, len(all))
		b.cuttings(all[:n])
		all = all[n:]
	}
}

// A cutting is one way of cutting a sheet.
type cutting struct {
	nest  nesting.Nest
	sheet nesting.Sheet
	cut   scope.Cut
	stock string
}

// Measures of the pictures of sheets, mm.
const (
	nestColumns = 3
	nestGap     = 6.0
	nestTall    = 70.0 // at most
)

// cuttings shows ways of cutting sheets beside one another, as they are drawn for cutting, with what is
// on each.
func (b *book) cuttings(row []cutting) {
	width := (b.body.Width() - nestGap*(nestColumns-1)) / nestColumns
	scale := func(c cutting) float64 { return min(width/c.nest.Stock.Width, nestTall/c.nest.Stock.Height) }
	under := make([][]string, len(row))
	tall, lines := 0.0, 0
	for i, c := range row {
		_, pieces := c.cut.Says()
		under[i] = draw.Text{Say: pieces, Height: draw.Letter18}.Wrap(width)
		tall, lines = max(tall, c.nest.Stock.Height*scale(c)), max(lines, len(under[i]))
	}
	words := float64(lines+2)*3 + 1.5
	b.need(tall + words)
	for i, c := range row {
		x, k := b.body.Min.X+float64(i)*(width+nestGap), scale(c)
		foot := b.y + tall
		at := func(p plane.Point) plane.Point { return plane.Point{X: x + p.X*k, Y: foot - p.Y*k} }
		b.Group(c.cut.Drawing)
		b.Polygon([]plane.Ring{plane.Rectangle(plane.Point{}, c.nest.Stock.Width, c.nest.Stock.Height).Map(at)}, draw.Paint{Stroke: thin})
		for _, p := range c.sheet.Placements {
			b.Polygon([]plane.Ring{c.nest.Outline(p).Map(at)}, draw.Paint{Fill: draw.Solid(draw.Grey(215)), Stroke: draw.Stroke{Width: draw.Width013}})
		}
		times, _ := c.cut.Says()
		b.fitted(x, foot+3.2, draw.Letter18, c.cut.Drawing+", cut "+times, width, draw.Text{Bold: true})
		for n, l := range under[i] {
			b.say(x, foot+6.2+3*float64(n), draw.Letter18, l, draw.Text{})
		}
		b.fitted(x, foot+6.2+3*float64(len(under[i])), draw.Letter18, c.stock, width, draw.Text{Colour: quiet})
		b.End()
	}
	b.y += tall + words + 2.5
}

// materials lists what to buy, and how it is mixed.
func (b *book) materials() {
	m := b.scope.Making
	if m == nil || len(m.Materials) == 0 {
		return
	}
	g := &grid{Table: m.MaterialTable()}
	b.section("Materials", 0, g)
	b.grid(g)
	var mixes []named
	for _, l := range m.Materials {
		if l.Mix != nil {
			mixes = append(mixes, named{fmt.Sprintf("%s, %s in a batch", l.Name, l.Mix.Amount), l.Mix.Table()})
		}
	}
	for len(mixes) > 1 {
		b.abreast(mixes[0], mixes[1])
		mixes = mixes[2:]
	}
	if len(mixes) > 0 {
		b.headed(mixes[0].title, mixes[0].Table)
	}
	for _, l := range m.Materials {
		if l.Mix == nil {
			continue
		}
		for _, n := range l.Mix.Notes {
			b.para(paragraph{lead: "To look at:", text: n})
		}
	}
}
