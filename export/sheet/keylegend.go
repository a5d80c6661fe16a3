package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/draw"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A row is one line of a legend: a sample, and what it stands for.
type row struct {
	sample func(p pen, box plane.Rect)
	lead   string
	text   string
	mark   bool // the sample is a mark at the size it has on the sheets
}

// kindsBlock explains the codes of the pieces: shape, name, how far a piece stands out, and its holes.
func (k *keyPage) kindsBlock() block {
	all := k.whole()
	letters := all.drillLetters()
	var rows []row
	for _, t := range all.tallies() {
		words := []string{t.kind.Name, count(t.pieces, "piece", "pieces"), "stands out " + all.length(t.kind.StandOff)}
		if holes := all.holesOf(t.kind, letters); holes != "" {
			words = append(words, holes)
		}
		rows = append(rows, row{
			sample: func(p pen, box plane.Rect) { all.headedSample(p, t.kind, box) },
			lead:   t.kind.Code,
			text:   joined(" · ", words...),
		})
	}
	return block{heading: "Pieces, each heading right, with its holes", rows: rows}
}

// holesOf says which holes a piece of the kind takes.
func (v view) holesOf(kind scatter.Kind, letters map[drillKind]string) string {
	counts := map[drillKind]int{}
	var order []drillKind
	for _, h := range kind.Holes {
		d := drillKind{h.Bit, h.Depth, h.Fixing}
		if counts[d] == 0 {
			order = append(order, d)
		}
		counts[d]++
	}
	var out []string
	for _, d := range order {
		text := fmt.Sprintf("%s %s", count(counts[d], "hole", "holes"), joined(" ", v.drill(d.bit), letters[d]))
		if len(letters) == 0 {
			text = joined(", ", text, v.length(d.depth)+" deep", d.fixing)
		}
		out = append(out, text)
	}
	return strings.Join(out, ", ")
}

// signsBlock explains the lines, hatchings and marks of the sheets and of the picture.
func (k *keyPage) signsBlock() block {
	rows := []row{
		{func(p pen, box plane.Rect) { p.cross(box.Centre(), 0, false) }, "", "a hole, to be drilled where the lines cross", true},
		{func(p pen, box plane.Rect) {
			c := box.Centre()
			p.cross(c.Sub(plane.Point{X: 2}), 0, true)
			p.say(c.X+3, c.Y+draw.Letter25/2, draw.Letter25, "!", 0, style{bold: true})
		}, "", "a hole with a caution of its own to settle before it is drilled", true},
		{func(p pen, box plane.Rect) { p.cross(box.Centre(), 0, false) }, "", "without a number: drilled on the sheet that lies over it, and not here", true},
		{func(p pen, box plane.Rect) { p.register(box.Centre(), false) }, "", "register mark: the halves on neighbouring sheets meet", true},
		{func(p pen, box plane.Rect) { p.register(box.Centre(), true) }, "", "register mark whose place the sheet gives", true},
	}
	has := func(strength wall.Strength) bool {
		return slices.ContainsFunc(k.faces, func(f *keyFace) bool {
			return slices.ContainsFunc(f.zonesThatSpeak(), func(z wall.Zone) bool { return z.Strength == strength })
		})
	}
	hatch := func(pitch, angle float64) func(p pen, box plane.Rect) {
		return func(p pen, box plane.Rect) {
			ring := []plane.Ring{corners(box)}
			draw.Hatch(p, ring, box, pitch, angle, hatching)
			p.Polygon(ring, draw.Paint{Stroke: draw.Stroke{Width: draw.Width018, Colour: hatching.Colour, Dash: draw.Dashed}})
		}
	}
	if has(wall.Forbidden) {
		rows = append(rows, row{hatch(forbiddenPitch/2, forbiddenAngle), "", "rising hatching, on a sheet: to be kept free, or without holes", false})
	}
	if has(wall.Caution) {
		rows = append(rows, row{hatch(cautionPitch/2, cautionAngle), "", "falling, wide hatching, on a sheet: a caution", false})
	}
	if k.faces[0].since != nil {
		rows = append(rows, row{func(p pen, box plane.Rect) { p.Polygon([]plane.Ring{corners(box)}, draw.Paint{Stroke: medium}) }, "",
			"thick, its name too, in the picture: a sheet that is printed anew; the others stay", false})
	}
	if slices.ContainsFunc(k.faces, func(f *keyFace) bool { return f.printed() < len(f.tiles) }) {
		rows = append(rows, row{hatch(leftOutPitch, leftOutAngle), "", "close hatching, in the picture: a sheet without holes, left out", false})
	}
	if slices.ContainsFunc(k.faces, func(f *keyFace) bool {
		return slices.ContainsFunc(f.things, func(o wall.Obstruction) bool { return f.standOut(o) > 0 })
	}) {
		rows = append(rows, row{func(p pen, box plane.Rect) {
			p.line(box.Min.X, box.Centre().Y, box.Max.X, box.Centre().Y, projecting)
		}, "", "edge of what stands out of the wall: cut the sheet along it", false})
	}
	return block{heading: "Signs", rows: append(rows, k.builtSigns()...)}
}

// zonesBlock gives in full why zones are hatched, those with one reason together.
func (k *keyPage) zonesBlock() block {
	names := map[string][]string{}
	var reasons []string
	for _, f := range k.faces {
		for _, z := range f.zonesThatSpeak() {
			if z.Reason == "" || z.Name == "" {
				continue
			}
			if names[z.Reason] == nil {
				reasons = append(reasons, z.Reason)
			}
			if !slices.Contains(names[z.Reason], z.Name) {
				names[z.Reason] = append(names[z.Reason], z.Name)
			}
		}
	}
	var items []item
	for _, r := range reasons {
		items = append(items, item{"", strings.Join(names[r], ", ") + ": " + r + "."})
	}
	return block{heading: "Why zones are hatched", items: items}
}

// An entry of the index: a piece, and the sheets that its holes are on.
type entry struct {
	id           int
	code, sheets string
}

// entries lists the pieces of the page by number.
func (k *keyPage) entries() []entry {
	var out []entry
	for _, f := range k.faces {
		on := map[int][]string{}
		for _, t := range f.tiles {
			for _, i := range t.Holes {
				h := f.work.Map.Holes[i]
				if t.owns(h.At) && !slices.Contains(on[h.Piece], t.Name) {
					on[h.Piece] = append(on[h.Piece], t.Name)
				}
			}
		}
		for _, p := range f.pieces {
			if len(on[p.ID]) > 0 {
				out = append(out, entry{p.ID, p.kind.Code, strings.Join(on[p.ID], ", ")})
			}
		}
	}
	slices.SortFunc(out, func(a, b entry) int { return cmp.Compare(a.id, b.id) })
	return out
}

// owns reports whether a point of the face is on the part of the tile that no neighbour covers.
func (t Tile) owns(p plane.Point) bool {
	c := t.Cell
	return p.X >= c.Min.X && p.X < c.Max.X && p.Y > c.Min.Y && p.Y <= c.Max.Y
}

// The letters of the index, mm.
const (
	indexHeight = 3.0
	indexPitch  = indexHeight * 1.6
	indexGap    = 7.0
	indexSign   = "on" // before the sheets, which look like kinds
)

// index lists the pieces with their sheets, so that somebody with a piece in the hand finds the
// sheet for it: in the given area if there is room for its heading, and on further pages.
func (k *keyPage) index(area plane.Rect, found bool) {
	entries := k.entries()
	number, code, sheets := 0.0, 0.0, 0.0
	for _, e := range entries {
		number = math.Max(number, wide(fmt.Sprint(e.id), indexHeight, true))
		code = math.Max(code, wide(e.code, indexHeight, false))
		sheets = math.Max(sheets, wide(e.sheets, indexHeight, false))
	}
	sign := wide(indexSign, indexHeight, false)
	width := number + code + sign + sheets + 3*1.8
	if !found || area.Width() < width || area.Height() < 12*indexPitch {
		area = k.turnPage(", continued")
	}
	for len(entries) > 0 {
		k.say(area.Min.X, area.Min.Y+headingHeight, headingHeight, "Which piece is on which sheet", area.Width(), style{bold: true})
		area.Min.Y += headingHeight + 2
		k.say(area.Min.X, area.Min.Y+least+0.2, least, "the number of the piece and its kind, on the sheets named", area.Width(), style{colour: quiet})
		area.Min.Y += least + 1.6
		columns := max(1, int((area.Width()+indexGap)/(width+indexGap)))
		rows := max(1, int(area.Height()/indexPitch))
		if needed := (len(entries) + columns - 1) / columns; needed < rows {
			rows = max(needed, min(rows, 12))
		}
		for i, e := range entries[:min(len(entries), rows*columns)] {
			x := area.Min.X + float64(i/rows)*(width+indexGap)
			y := area.Min.Y + float64(i%rows+1)*indexPitch - 1
			k.say(x+number, y, indexHeight, fmt.Sprint(e.id), 0, style{bold: true, align: draw.Right})
			k.say(x+number+1.8, y, indexHeight, e.code, 0, style{})
			k.say(x+number+code+3.6, y, indexHeight, indexSign, 0, style{colour: quiet})
			k.say(x+number+code+sign+5.4, y, indexHeight, e.sheets, area.Max.X-x-number-code-sign-5.4, style{})
		}
		entries = entries[min(len(entries), rows*columns):]
		if len(entries) > 0 {
			area = k.turnPage(", continued")
		}
	}
}
