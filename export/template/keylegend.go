package template

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/sheet"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// kindsBlock explains the codes of the pieces: shape, name, how far a piece stands out, and its holes.
func (k *keyPage) kindsBlock() drafting.Block {
	all := k.whole()
	letters := drillLetters(all)
	var rows []drafting.Row
	for _, t := range all.Tallies() {
		words := []string{t.Kind.Name, drafting.Count(t.Pieces, "piece", "pieces"), "stands out " + all.Length(t.Kind.StandOff)}
		if holes := holesOf(all, t.Kind, letters); holes != "" {
			words = append(words, holes)
		}
		rows = append(rows, drafting.Row{
			Sample: func(p drafting.Pen, box plane.Rect) { all.HeadedSample(p, t.Kind, box) },
			Lead:   t.Kind.Code,
			Text:   drafting.Joined(" · ", words...),
		})
	}
	return drafting.Block{Heading: "Pieces, each heading right, with its holes", Rows: rows}
}

// holesOf says which holes a piece of the kind takes.
func holesOf(v elevation.View, kind scatter.Kind, letters map[elevation.DrillKind]string) string {
	counts := map[elevation.DrillKind]int{}
	var order []elevation.DrillKind
	for _, h := range kind.Holes {
		d := elevation.DrillKind{Bit: h.Bit, Depth: h.Depth, Fixing: h.Fixing}
		if counts[d] == 0 {
			order = append(order, d)
		}
		counts[d]++
	}
	var out []string
	for _, d := range order {
		text := fmt.Sprintf("%s %s", drafting.Count(counts[d], "hole", "holes"), drafting.Joined(" ", v.Drill(d.Bit), letters[d]))
		if len(letters) == 0 {
			text = drafting.Joined(", ", text, v.Length(d.Depth)+" deep", d.Fixing)
		}
		out = append(out, text)
	}
	return strings.Join(out, ", ")
}

// signsBlock explains the lines, hatchings and marks of the sheets and of the picture.
func (k *keyPage) signsBlock() drafting.Block {
	rows := []drafting.Row{
		{Sample: func(p drafting.Pen, box plane.Rect) { p.Cross(box.Centre(), 0, false) }, Lead: "", Text: "a hole, to be drilled where the lines cross", Mark: true},
		{Sample: func(p drafting.Pen, box plane.Rect) {
			c := box.Centre()
			p.Cross(c.Sub(plane.Point{X: 2}), 0, true)
			p.Say(c.X+3, c.Y+draw.Letter25/2, draw.Letter25, "!", 0, drafting.Style{Bold: true})
		}, Lead: "", Text: "a hole with a caution of its own to settle before it is drilled", Mark: true},
		{Sample: func(p drafting.Pen, box plane.Rect) { p.Cross(box.Centre(), 0, false) }, Lead: "", Text: "without a number: drilled on the sheet that lies over it, and not here", Mark: true},
		{Sample: func(p drafting.Pen, box plane.Rect) { p.Register(box.Centre(), false) }, Lead: "", Text: "register mark: the halves on neighbouring sheets meet", Mark: true},
		{Sample: func(p drafting.Pen, box plane.Rect) { p.Register(box.Centre(), true) }, Lead: "", Text: "register mark whose place the sheet gives", Mark: true},
	}
	has := func(strength wall.Strength) bool {
		return slices.ContainsFunc(k.faces, func(f *keyFace) bool {
			return slices.ContainsFunc(f.ZonesThatSpeak(), func(z wall.Zone) bool { return z.Strength == strength })
		})
	}
	hatch := func(pitch, angle float64) func(p drafting.Pen, box plane.Rect) {
		return func(p drafting.Pen, box plane.Rect) {
			ring := []plane.Ring{drafting.Corners(box)}
			draw.Hatch(p, ring, box, pitch, angle, drafting.Hatching)
			p.Polygon(ring, draw.Paint{Stroke: draw.Stroke{Width: draw.Width018, Colour: drafting.Hatching.Colour, Dash: draw.Dashed}})
		}
	}
	if has(wall.Forbidden) {
		rows = append(rows, drafting.Row{Sample: hatch(sheet.ForbiddenPitch/2, sheet.ForbiddenAngle), Lead: "", Text: "rising hatching, on a sheet: to be kept free, or without holes", Mark: false})
	}
	if has(wall.Caution) {
		rows = append(rows, drafting.Row{Sample: hatch(sheet.CautionPitch/2, sheet.CautionAngle), Lead: "", Text: "falling, wide hatching, on a sheet: a caution", Mark: false})
	}
	if k.faces[0].Since != nil {
		rows = append(rows, drafting.Row{Sample: func(p drafting.Pen, box plane.Rect) {
			p.Polygon([]plane.Ring{drafting.Corners(box)}, draw.Paint{Stroke: drafting.Medium})
		}, Lead: "",
			Text: "thick, its name too, in the picture: a sheet that is printed anew; the others stay", Mark: false})
	}
	if slices.ContainsFunc(k.faces, func(f *keyFace) bool { return f.printed() < len(f.Tiles) }) {
		rows = append(rows, drafting.Row{Sample: hatch(leftOutPitch, leftOutAngle), Lead: "", Text: "close hatching, in the picture: a sheet without holes, left out", Mark: false})
	}
	if slices.ContainsFunc(k.faces, func(f *keyFace) bool {
		return slices.ContainsFunc(f.Things, func(o wall.Obstruction) bool { return f.StandOut(o) > 0 })
	}) {
		rows = append(rows, drafting.Row{Sample: func(p drafting.Pen, box plane.Rect) {
			p.Segment(box.Min.X, box.Centre().Y, box.Max.X, box.Centre().Y, drafting.Projecting)
		}, Lead: "", Text: "edge of what stands out of the wall: cut the sheet along it", Mark: false})
	}
	return drafting.Block{Heading: "Signs", Rows: append(rows, k.builtSigns()...)}
}

// zonesBlock gives in full why zones are hatched, those with one reason together.
func (k *keyPage) zonesBlock() drafting.Block {
	names := map[string][]string{}
	var reasons []string
	for _, f := range k.faces {
		for _, z := range f.ZonesThatSpeak() {
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
	var items []drafting.Item
	for _, r := range reasons {
		items = append(items, drafting.Item{Lead: "", Text: strings.Join(names[r], ", ") + ": " + r + "."})
	}
	return drafting.Block{Heading: "Why zones are hatched", Items: items}
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
		for _, t := range f.Tiles {
			for _, i := range t.Holes {
				h := f.Work.Map.Holes[i]
				if t.Owns(h.At) && !slices.Contains(on[h.Piece], t.Name) {
					on[h.Piece] = append(on[h.Piece], t.Name)
				}
			}
		}
		for _, p := range f.Pieces {
			if len(on[p.ID]) > 0 {
				out = append(out, entry{p.ID, p.Kind.Code, strings.Join(on[p.ID], ", ")})
			}
		}
	}
	slices.SortFunc(out, func(a, b entry) int { return cmp.Compare(a.id, b.id) })
	return out
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
		number = math.Max(number, drafting.TextWidth(fmt.Sprint(e.id), indexHeight, true))
		code = math.Max(code, drafting.TextWidth(e.code, indexHeight, false))
		sheets = math.Max(sheets, drafting.TextWidth(e.sheets, indexHeight, false))
	}
	sign := drafting.TextWidth(indexSign, indexHeight, false)
	width := number + code + sign + sheets + 3*1.8
	if !found || area.Width() < width || area.Height() < 12*indexPitch {
		area = k.turnPage(", continued")
	}
	for len(entries) > 0 {
		k.Say(area.Min.X, area.Min.Y+drafting.HeadingHeight, drafting.HeadingHeight, "Which piece is on which sheet", area.Width(), drafting.Style{Bold: true})
		area.Min.Y += drafting.HeadingHeight + 2
		k.Say(area.Min.X, area.Min.Y+drafting.Least+0.2, drafting.Least, "the number of the piece and its kind, on the sheets named", area.Width(), drafting.Style{Colour: drafting.Quiet})
		area.Min.Y += drafting.Least + 1.6
		columns := max(1, int((area.Width()+indexGap)/(width+indexGap)))
		rows := max(1, int(area.Height()/indexPitch))
		if needed := (len(entries) + columns - 1) / columns; needed < rows {
			rows = max(needed, min(rows, 12))
		}
		for i, e := range entries[:min(len(entries), rows*columns)] {
			x := area.Min.X + float64(i/rows)*(width+indexGap)
			y := area.Min.Y + float64(i%rows+1)*indexPitch - 1
			k.Say(x+number, y, indexHeight, fmt.Sprint(e.id), 0, drafting.Style{Bold: true, Align: draw.Right})
			k.Say(x+number+1.8, y, indexHeight, e.code, 0, drafting.Style{})
			k.Say(x+number+code+3.6, y, indexHeight, indexSign, 0, drafting.Style{Colour: drafting.Quiet})
			k.Say(x+number+code+sign+5.4, y, indexHeight, e.sheets, area.Max.X-x-number-code-sign-5.4, drafting.Style{})
		}
		entries = entries[min(len(entries), rows*columns):]
		if len(entries) > 0 {
			area = k.turnPage(", continued")
		}
	}
}
