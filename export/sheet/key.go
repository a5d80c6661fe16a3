package sheet

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/draw"
	"wallshoal/wall/plane"
)

// A keyPage shows which tile goes where on a face, and says how to hang them.
type keyPage struct {
	pen
	view
	print Print
	tiles []Tile
	mapping
	drawn Scale
}

// draw draws the key page, and further pages where the text needs them.
func (k *keyPage) draw() {
	area := k.turnPage("")
	picture := area
	picture.Max.Y = area.Min.Y + area.Height()*0.56
	k.fit(picture)
	bottom := k.wallWithTiles()
	area.Min.Y = bottom + 4
	columns := 3
	if area.Width() < 240 {
		columns = 2
	}
	flow := columnFlow{pen: k.pen, columns: columnsOf(area, columns, 7)}
	flow.more = func() []plane.Rect { return columnsOf(k.turnPage(", continued"), columns, 7) }
	flow.write(k.words())
}

// turnPage starts a page with its heading and returns the area below it.
func (k *keyPage) turnPage(note string) plane.Rect {
	p := k.print
	p.Landscape = k.bounds.Width() > k.bounds.Height()
	width, height := p.size()
	k.Page(width, height)
	area := p.printable()
	right := area.Max.X
	k.say(right, area.Min.Y+5, draw.Letter50, k.work.Map.Fingerprint, 0, style{bold: true, align: draw.Right})
	k.say(right, area.Min.Y+9, textHeight, "fingerprint of this layout", 0, style{align: draw.Right, colour: quiet})
	room := area.Width() - math.Max(40, wide(k.work.Map.Fingerprint, draw.Letter50, true)) - 6
	k.say(area.Min.X, area.Min.Y+5, draw.Letter50, fmt.Sprintf("Key to the hole map: %s%s", k.name(), note), room, style{bold: true})
	k.say(area.Min.X, area.Min.Y+9.5, draw.Letter25, joined(" · ", k.work.Title, k.work.For, k.work.Place, k.dated()), room, style{})
	area.Min.Y += 13
	return area
}

// dated returns the date of issue, or nothing where the plan gives none.
func (v view) dated() string {
	if v.work.Date.IsZero() {
		return ""
	}
	return v.work.Date.Format("2006-01-02")
}

// joined joins what is not empty.
func joined(by string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), by)
}

// The room that the names of rows and columns take beside the drawing, mm.
const (
	rowNames    = 9.0
	columnNames = 5.0
	lengthBelow = 8.0
)

// fit chooses the scale and place of the drawing within the area.
func (k *keyPage) fit(area plane.Rect) {
	g := k.gridBox()
	room := plane.Point{X: area.Width() - 2*rowNames, Y: area.Height() - columnNames - lengthBelow}
	// A key is a diagram: it fills its room at whatever whole scale that takes.
	k.drawn = Scale{Ratio: math.Max(1, math.Ceil(math.Max(g.Width()/room.X, g.Height()/room.Y)))}
	k.mapping.k = 1 / k.drawn.Ratio
	left := area.Min.X + rowNames + math.Max(0, (room.X-g.Width()*k.mapping.k)/2)
	k.mapping.origin = plane.Point{
		X: left - g.Min.X*k.mapping.k,
		Y: area.Min.Y + columnNames + g.Max.Y*k.mapping.k,
	}
}

// gridBox returns the box on the face that all tiles fill together.
func (k *keyPage) gridBox() plane.Rect {
	return k.tiles[len(k.tiles)-1].Cell.Union(k.tiles[0].Cell)
}

// wallWithTiles draws the face under the grid of its tiles and returns where the drawing ends.
func (k *keyPage) wallWithTiles() float64 {
	for _, o := range k.obstructions() {
		k.Polygon([]plane.Ring{k.ring(o.Shape)}, draw.Paint{Fill: draw.Solid(draw.Grey(236)), Stroke: shade(thin, soft)})
	}
	for _, p := range k.pieces {
		k.Polygon([]plane.Ring{k.ring(p.ring)}, draw.Paint{Stroke: shade(hair, soft)})
	}
	k.leftOut()
	for _, t := range k.tiles {
		k.Polygon([]plane.Ring{corners(k.mapping.box(t.Cell))}, draw.Paint{Stroke: shade(hair, soft)})
	}
	for _, h := range k.holes {
		k.Circle(k.mapping.at(h.At), 0.3, draw.Paint{Fill: draw.Solid(ink)})
	}
	k.Polygon(k.mapping.rings(k.view.rings), draw.Paint{Stroke: bold})
	k.datumAcross()
	k.rowAndColumnNames()
	k.tileNames()
	return k.caption()
}

// leftOut hatches the tiles that have no holes, all in a row as one.
func (k *keyPage) leftOut() {
	all := k.mapping.box(k.gridBox())
	var run []plane.Ring
	for _, t := range k.tiles {
		if len(t.Holes) == 0 {
			run = append(run, corners(k.mapping.box(t.Cell)))
		}
	}
	draw.Hatch(k, run, all, 1.6, math.Pi/4, shade(hair, faint))
}

func (k *keyPage) datumAcross() {
	y, upright := k.datum()
	if !upright || y < k.bounds.Min.Y || y > k.bounds.Max.Y {
		return
	}
	g := k.mapping.box(k.gridBox())
	at := k.mapping.at(plane.Point{Y: y}).Y
	k.line(g.Min.X, at, g.Max.X+2, at, draw.Stroke{Width: draw.Width025, Dash: draw.DashDot})
	k.say(g.Max.X+1, at-0.8, least, "datum", 0, style{})
}

// rowAndColumnNames letters the rows and numbers the columns, as many as there is room for.
func (k *keyPage) rowAndColumnNames() {
	g := k.mapping.box(k.gridBox())
	last := k.tiles[len(k.tiles)-1]
	everyColumn := every(wide(fmt.Sprint(last.Column+1), least, false)+0.8, last.Cell.Width()*k.mapping.k)
	everyRow := every(least+0.6, last.Cell.Height()*k.mapping.k)
	for _, t := range k.tiles {
		c := k.mapping.box(t.Cell)
		if t.Row == 0 && t.Column%everyColumn == 0 {
			k.say(c.Centre().X, g.Min.Y-1.5, least, fmt.Sprint(t.Column+1), 0, style{align: draw.Centre})
		}
		if t.Column == 0 && t.Row%everyRow == 0 {
			k.say(g.Min.X-1.5, c.Centre().Y+least/2, least, rowLetters(t.Row), 0, style{align: draw.Right})
		}
	}
}

// every returns how many cells apart names must be to have room: 1, 2, 5, 10 and so on.
func every(need, have float64) int {
	for step := 1; ; step *= 10 {
		for _, n := range []int{step, 2 * step, 5 * step} {
			if need <= have*float64(n) || n >= 100_000 {
				return n
			}
		}
	}
}

// tileNames names each printed tile in its cell, where that is legible.
func (k *keyPage) tileNames() {
	first := k.tiles[0].Cell
	width, height := first.Width()*k.mapping.k, first.Height()*k.mapping.k
	longest := ""
	for _, t := range k.tiles {
		if len(t.Name) > len(longest) {
			longest = t.Name
		}
	}
	size := math.Min(draw.Letter25, height*0.3)
	size = math.Min(size, size*(width-1.4)/wide(longest, size, true))
	if size < least {
		return
	}
	for _, t := range k.tiles {
		if len(t.Holes) == 0 {
			continue
		}
		c := k.mapping.box(t.Cell)
		at := c.Min.Add(plane.Point{X: 0.5, Y: 0.5 + size})
		k.say(at.X, at.Y, size, t.Name, 0, style{bold: true})
	}
}

// caption gives the size of the face and the scale, and returns where it ends.
func (k *keyPage) caption() float64 {
	g, b := k.mapping.box(k.gridBox()), k.mapping.box(k.bounds)
	y := g.Max.Y + 5
	words := fmt.Sprintf("%s long, %s high · %s", k.length(k.bounds.Width()), k.length(k.bounds.Height()), scaleWords(k.drawn))
	k.say(b.Min.X, y, draw.Letter25, words, math.Max(b.Width(), 90), style{})
	return y
}

// printed returns how many tiles have holes.
func (k *keyPage) printed() int {
	n := 0
	for _, t := range k.tiles {
		if len(t.Holes) > 0 {
			n++
		}
	}
	return n
}

// words returns everything that the key page has to say.
func (k *keyPage) words() []block {
	return []block{k.howToHang(), k.sheets(), k.drilling(), k.cautions()}
}

func (k *keyPage) howToHang() block {
	level := "Lay the sheets out along a level line on the wall."
	if y, upright := k.datum(); upright {
		level = fmt.Sprintf("Draw the datum on the wall with a level, %s above the floor. It is the dash-dot line on the sheets; it runs %s above the foot of this face.",
			k.length(k.work.Site.Room.Datum), k.length(y))
		if math.Abs(y-k.work.Site.Room.Datum) < 0.5 {
			level = fmt.Sprintf("Draw the datum on the wall with a level, %s above the floor. It is the dash-dot line on the sheets.",
				k.length(k.work.Site.Room.Datum))
		}
	}
	return block{"How to hang it", []item{
		{"1", "Print every sheet at 100 % (“actual size”), never fitted to the page."},
		{"2", "Hold a rule against the check bars of a sheet, both ways: 100 mm and 4 in. Where they are out by more than half a millimetre, the sheets are not to be used."},
		{"3", level},
		{"4", "Cut each sheet along its frame at the left and at the top. It then covers the strips of the sheets to its left and above it."},
		{"5", "Begin with a sheet that shows the datum. Lay neighbours together so that the register marks at their corners meet, and tape them. Each sheet names its neighbours; those in brackets are left out."},
		{"6", "Measure now and then: the black register mark at the lower left of a sheet lies where the sheet's foot says."},
		{"7", "Look for cables and pipes with a detector before drilling. Where a cross has a square round it and its number an exclamation mark, a caution below has to be settled first."},
		{"8", "Drill through the paper where the lines of a cross meet. The big figure is the hole's number, the small one the bit. The grey outline is the piece, the arrow the way it heads."},
		{"9", fmt.Sprintf("Every sheet bears the fingerprint %s. One with another belongs to another layout.", k.work.Map.Fingerprint)},
	}}
}

func (k *keyPage) sheets() block {
	var out []string
	for _, t := range k.tiles {
		if len(t.Holes) == 0 {
			out = append(out, t.Name)
		}
	}
	printed := k.printed()
	items := []item{{"", fmt.Sprintf("%s of %s, for %s and %s.",
		count(printed, "sheet", "sheets"), k.print.Paper.Name, count(len(k.pieces), "piece", "pieces"), count(len(k.holes), "hole", "holes"))}}
	if len(out) > 0 {
		items = append(items, item{"", fmt.Sprintf("Left out and hatched above, because they have no holes: %s.", k.runs())})
	}
	return block{"Sheets", items}
}

// runs returns the names of the tiles that are left out, with neighbours in a row drawn together.
func (k *keyPage) runs() string {
	var out []string
	for i := 0; i < len(k.tiles); i++ {
		if len(k.tiles[i].Holes) > 0 {
			continue
		}
		j := i
		for j+1 < len(k.tiles) && len(k.tiles[j+1].Holes) == 0 && k.tiles[j+1].Row == k.tiles[i].Row {
			j++
		}
		switch {
		case j == i:
			out = append(out, k.tiles[i].Name)
		default:
			out = append(out, k.tiles[i].Name+" to "+k.tiles[j].Name)
		}
		i = j
	}
	return strings.Join(out, ", ")
}

// drilling lists the holes by bit, depth and fixing.
func (k *keyPage) drilling() block {
	return block{"Holes", k.holeItems()}
}

// A drillKind is one way to make a hole.
type drillKind struct {
	bit, depth float64
	fixing     string
}

// drills counts the holes of the face by bit, depth and fixing, the smallest bit first.
func (v view) drills() ([]drillKind, map[drillKind]int) {
	counts := map[drillKind]int{}
	for _, h := range v.holes {
		counts[drillKind{h.Bit, h.Depth, h.Fixing}]++
	}
	order := slices.SortedFunc(maps.Keys(counts), func(a, b drillKind) int {
		return cmp.Or(cmp.Compare(a.bit, b.bit), cmp.Compare(a.depth, b.depth), strings.Compare(a.fixing, b.fixing))
	})
	return order, counts
}

func (v view) holeItems() []item {
	order, counts := v.drills()
	var items []item
	for _, d := range order {
		items = append(items, item{fmt.Sprint(counts[d]), joined(", ", v.drill(d.bit), v.length(d.depth)+" deep", d.fixing)})
	}
	return items
}

// cautions lists the cautions for this face and those for the whole of its wall.
func (k *keyPage) cautions() block {
	var items []item
	for _, c := range k.work.Map.Cautions {
		if c.Wall != k.wall.Name || (c.Face != "" && c.Face != k.face.Name) {
			continue
		}
		of := ""
		if c.Holes > 0 {
			of = fmt.Sprintf(" (%s)", count(c.Holes, "hole", "holes"))
		}
		// Every text ends with how cautions stand; on this page that is said once.
		text := strings.TrimSpace(strings.TrimSuffix(c.Text, caution.Standing))
		items = append(items, item{strings.ToUpper(c.Severity), text + of})
	}
	if len(items) == 0 {
		items = []item{{"", "None of the usual cautions was found to apply. That clears nothing."}}
	}
	items = append(items, item{"", "These are usual cautions, not clearance: local codes and licensed trades decide."})
	return block{"Cautions", items}
}

// count returns a number with the right form of its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
