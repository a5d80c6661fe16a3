package plan

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/scatter"
	"wallshoal/scatter/outline"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// PieceSection is one kind of piece.
//
//	name:         each kind has its own; needed
//	code:         one or two letters or digits that stand for it on the sheets; needed
//	outline:      one of
//	                path: SVG path data, one closed contour, x right and y down
//	                points: a list of corners, [x, y], x right and y up
//	                ellipse: [length, width]
//	                rectangle: [length, width]
//	heads:        the way the piece moves as it is drawn: up, right, down or left; up if left out.
//	              The length of an ellipse or rectangle runs that way.
//	length:       the outline is scaled to be this long the way it heads; if left out, the drawing's
//	              numbers are in the plan's units
//	holes:        a list, see HoleSection; needed
//	stand-off:    how far the piece stands out from the wall; needed
//	weight:       grams
//	combustible:  whether it burns; true if left out
//	edges:        sharp where it has edges or points that can cut; blunt if left out
//	colour:       "#rrggbb", in quotation marks; one of our own choosing if left out
//	count:        exactly so many pieces of the kind, or
//	share:        its part of the pieces that are left, against the other shares; 0 leaves it out; 1 if both
//	              are left out
//	turned:       how far it is turned from where the flow would have it head, degrees clockwise; 0 if
//	              left out
//	forms:        a list of ways in which it is folded, bent or opened, see FormSection
//	sizes:        a list of sizes in which it is made, see SizeSection
//
// Each form in each size is a kind of its own, named after all three and counted by the product of the
// shares. Its code is that of the piece, which is then a single letter, and a digit: 9 at most.
type PieceSection = scatter.Kind

// HoleSection is one hole that a piece needs in the wall.
//
//	at:      [x, y] in the coordinates of the outline: y runs down with a path, up otherwise; an
//	         ellipse and a rectangle have their origin in the middle
//	bit:     diameter of the drill bit
//	depth:   how deep to drill
//	fixing:  what goes in
//	anchor:  how that holds in masonry: pin, by its fit alone; plug, of plastic; or expansion, of metal; by
//	         the bit if left out
//
// All but the last are needed.
type HoleSection = scatter.Hole

// pieces reads the kinds of pieces and checks them.
func (r *reader) pieces(v yamlfile.Value) []scatter.Kind {
	items, ok := v.List(MaxKinds, "a list of pieces, each starting with a dash")
	if !ok {
		return nil
	}
	pieces := make([]piece, len(items))
	drawn := make([]scatter.Kind, len(items))
	for i, item := range items {
		pieces[i] = r.piece(item, i)
		drawn[i] = pieces[i].Kind
	}
	r.judge(scatter.CheckKinds(drawn, r.units))
	var kinds []scatter.Kind
	for _, p := range pieces {
		kinds = append(kinds, r.made(p)...)
	}
	r.apart(v, pieces, kinds)
	r.drawn = pieces
	return kinds
}

// A piece is a kind as the plan draws it, and what it is made in.
type piece struct {
	scatter.Kind
	field string
	holes []plane.Point // in the drawing
	heads outline.Direction
	forms []form
	sizes []size
}

func (r *reader) piece(v yamlfile.Value, i int) piece {
	p := piece{field: v.Field()}
	m, ok := v.Map("name", "code", "outline", "heads", "length", "holes", "stand-off", "weight", "combustible", "edges", "colour", "count", "share", "turned", "forms", "sizes")
	if !ok {
		r.file.Spoil(v.Field())
		return p
	}
	k := &p.Kind
	*k = scatter.Kind{Combustible: true, Colour: ownColour(i)}
	k.Name, _ = m.Get("name").Need("give each kind of piece a name").Text(maxTitle)
	k.Code, _ = m.Get("code").Need("give one or two letters or digits, like A or B2").Text(maxTitle)
	k.Of = k.Name
	r.drawing(m, &p)
	k.StandOff = r.length(m.Get("stand-off").Need("say how far the piece stands out from the wall"), "a stand-off", 0, MaxStandOff, 0)
	k.Weight, _ = m.Get("weight").Number("a weight in grams", 0, scatter.MaxWeight)
	if burns, ok := m.Get("combustible").Bool(); ok {
		k.Combustible = burns
	}
	edges, _ := m.Get("edges").Choice("a sort of edges", "blunt", "sharp")
	k.Sharp = edges == "sharp"
	if c, ok := readColour(m.Get("colour")); ok {
		k.Colour = c
	}
	k.Offset, _ = m.Get("turned").Number("a turn from the flow", -360, 360)
	r.quota(m, k)
	p.forms = r.forms(m.Get("forms"), &p)
	p.sizes = r.sizes(m.Get("sizes"), &p)
	return p
}

func (r *reader) quota(m yamlfile.Map, k *scatter.Kind) {
	count, share := m.Get("count"), m.Get("share")
	switch {
	case count.Given() && share.Given():
		share.Fault("stands beside a count", "keep one of them")
		return
	case count.Given():
		n, ok := count.Whole("a number of pieces", 1, MaxPieces)
		if k.Count = n; !ok {
			r.file.Spoil(share.Field())
		}
		return
	case !share.Given():
		k.Share = 1
		return
	}
	k.Share, _ = share.Number("a share", 0, scatter.MaxShare)
}

// drawing reads a kind's outline and its holes, and lays them in the frame of the piece.
func (r *reader) drawing(m yamlfile.Map, p *piece) {
	p.heads = outline.Up
	if way, ok := m.Get("heads").Choice("a way to head", texts(outline.Directions())...); ok {
		p.heads = outline.Direction(way)
	}
	field := m.Get("outline").Need("give path, points, ellipse or rectangle")
	d, down, drawn := r.outline(field, p.heads)
	scaled := m.Get("length")
	length := r.size(scaled, "a length")
	p.Holes, p.holes = r.holes(m.Get("holes").Need("give at least one hole"), down)
	if !drawn || (scaled.Given() && length == 0) {
		r.file.Spoil(field.Field())
		return
	}
	r.lay(field, d, &p.Kind, p.holes, p.heads, length)
}

// lay lays a drawing and the holes in it into the frame of the piece, the drawing scaled to the
// length, or not at all where that is 0.
func (r *reader) lay(field yamlfile.Value, d outline.Drawing, k *scatter.Kind, holes []plane.Point, heads outline.Direction, length float64) {
	ring, at, err := outline.Lay(d, holes, heads, length)
	switch {
	case err != nil && crossesItself(d):
		field.Fault("the outline crosses itself", "draw it once round, and give corners in order, each of them once")
		return
	case err != nil:
		field.Fault(err.Error(), "draw one closed outline with fewer and gentler curves")
		return
	}
	k.Outline = ring
	for i := range k.Holes {
		k.Holes[i].At = at[i]
	}
}

// crossesItself reports whether the sides of a drawing cross; one that only runs to and fro along a
// line does not.
func crossesItself(d outline.Drawing) bool {
	ring := d.Ring(math.Inf(1), MaxCorners)
	b := ring.Bounds()
	_, _, crosses := ring.Crossing()
	return crosses && b.Width() > 0 && b.Height() > 0 && len(ring) <= MaxCorners
}

// outline reads the drawing of a piece that heads as told, in mm, and reports whether its y runs
// down.
func (r *reader) outline(v yamlfile.Value, heads outline.Direction) (d outline.Drawing, down, ok bool) {
	if v.IsList() {
		ring := r.points(v, MaxCorners, -farthestOff, farthestOff)
		return outline.Points(ring), false, ring != nil
	}
	m, ok := v.Map()
	if !ok {
		return nil, false, false
	}
	if m.Get("path").Given() && slices.ContainsFunc(m.Keys(), isCoordinates) {
		v.Fault("has the commas of a path within braces, where commas part the keys", "put the path data in quotation marks")
		return nil, false, false
	}
	m.Known("path", "points", "ellipse", "rectangle")
	var given []yamlfile.Value
	for _, key := range []string{"path", "points", "ellipse", "rectangle"} {
		if v := m.Get(key); v.Given() {
			given = append(given, v)
		}
	}
	if len(given) != 1 {
		if !r.file.Faulty(v.Field()) {
			v.Fault("has "+strconv.Itoa(len(given))+" drawings", "give one of path, points, ellipse and rectangle")
		}
		return nil, false, false
	}
	switch given[0] {
	case m.Get("path"):
		path, ok := r.path(given[0])
		return path, true, ok
	case m.Get("points"):
		ring := r.points(given[0], MaxCorners, -farthestOff, farthestOff)
		return outline.Points(ring), false, ring != nil
	}
	size, ok := r.coordinates(given[0], 2, MinLength, MaxLength)
	if !ok {
		return nil, false, false
	}
	if heads == outline.Up || heads == outline.Down {
		size[0], size[1] = size[1], size[0]
	}
	if given[0] == m.Get("ellipse") {
		return outline.Ellipse{Width: size[0], Height: size[1]}, false, true
	}
	return outline.Rectangle(size[0], size[1]), false, true
}

// isCoordinates reports whether key is what path data leaves where a comma is taken for the end of
// a value.
func isCoordinates(key string) bool { return strings.Trim(key[:1], "-.0123456789") == "" }

func (r *reader) path(v yamlfile.Value) (outline.Path, bool) {
	data, ok := v.Data(MaxPathBytes)
	if !ok {
		return outline.Path{}, false
	}
	path, err := outline.ParsePath(data)
	if err != nil {
		v.Fault(err.Error(), "write the path data of one closed outline, like M 0,0 L 60,0 L 30,40 Z")
		return outline.Path{}, false
	}
	unit, _ := measure.Parse("1", r.units)
	return path.Scale(unit), true
}

// holes reads a list of holes and where they are in the drawing, y up.
func (r *reader) holes(v yamlfile.Value, down bool) ([]scatter.Hole, []plane.Point) {
	items, ok := v.List(MaxHoles, "a list of holes, each starting with a dash")
	if !ok {
		r.file.Spoil(v.Field())
	}
	holes := make([]scatter.Hole, len(items))
	at := make([]plane.Point, len(items))
	for i, item := range items {
		m, ok := item.Map("at", "bit", "depth", "fixing", "anchor")
		if !ok {
			r.file.Spoil(item.Field())
			continue
		}
		h := &holes[i]
		at[i], ok = r.point(m.Get("at").Need("give the place of the hole in the outline's own coordinates"), -farthestOff, farthestOff)
		if !ok {
			r.file.Spoil(m.Get("at").Field())
		}
		if down {
			at[i].Y = -at[i].Y
		}
		h.Bit = r.length(m.Get("bit").Need("give the diameter of the bit"), "a bit", scatter.MinBit, scatter.MaxBit, 0)
		h.Depth = r.length(m.Get("depth").Need("say how deep to drill"), "a depth to drill", scatter.MinBit, scatter.MaxDrill, 0)
		h.Fixing, _ = m.Get("fixing").Need("say what goes into the hole").Text(maxFixing)
		anchor, _ := m.Get("anchor").Choice("a way to hold", texts(scatter.Anchors())...)
		h.Anchor = scatter.Anchor(anchor)
	}
	return holes, at
}

func readColour(v yamlfile.Value) (scatter.Colour, bool) {
	text, ok := v.Text(maxTitle)
	if !ok {
		return scatter.Colour{}, false
	}
	digits, hash := strings.CutPrefix(text, "#")
	n, err := strconv.ParseUint(digits, 16, 32)
	if !hash || len(digits) != 6 || err != nil {
		v.Fault(yamlfile.Quote(text)+" is not a colour", `write six digits from 0 to f in quotation marks, like "#7f97a8"`)
		return scatter.Colour{}, false
	}
	return scatter.Colour{R: uint8(n >> 16), G: uint8(n >> 8), B: uint8(n)}, true
}

// ownColour returns the colour of the kind with index i where the plan gives none: eight that
// differ in lightness as well as in hue, so that they part in black and white too.
func ownColour(i int) scatter.Colour {
	colours := []scatter.Colour{
		{R: 0x4a, G: 0x6f, B: 0x8a}, {R: 0xd9, G: 0xa4, B: 0x41}, {R: 0x8c, G: 0x3b, B: 0x3b}, {R: 0x9f, G: 0xb8, B: 0x8f},
		{R: 0x3d, G: 0x4f, B: 0x3a}, {R: 0xe3, G: 0xc9, B: 0xb0}, {R: 0x6b, G: 0x5b, B: 0x8c}, {R: 0xb5, G: 0x75, B: 0x52},
	}
	return colours[i%len(colours)]
}
