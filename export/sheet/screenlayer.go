package sheet

import (
	"context"
	"fmt"
	"math"
	"slices"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/stand"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A Layer is what can be laid over the picture of a face.
type Layer string

// The layers, and what of ScreenWith they are drawn from.
const (
	LayerZones   Layer = "zones"   // where something may not go, hatched, and why
	LayerDatum   Layer = "datum"   // the datum, and heights
	LayerTiles   Layer = "tiles"   // the sheets of the hole map with their names: Cut
	LayerSeams   Layer = "seams"   // where sheets are cut, and the holes near that: Cut
	LayerStands  Layer = "stands"  // the stands with their numbers: Stands
	LayerDensity Layer = "density" // how dense the work is asked to be: Composition
	LayerFlow    Layer = "flow"    // which way the flow runs, parted where that is asked: Composition
)

// Layers returns all of them.
func Layers() []Layer {
	return []Layer{LayerZones, LayerDatum, LayerTiles, LayerSeams, LayerStands, LayerDensity, LayerFlow}
}

// ScreenWith is what the layers need that a work does not hold.
type ScreenWith struct {
	Cut         Cut // of the work
	Stands      []stand.Stand
	Composition scatter.Composition
}

// The colours of the layers: dark enough to be told on a grey screen, where their lines and words tell them
// apart.
var (
	layerForbidden = draw.Colour{R: 140, G: 40, B: 28}
	layerCaution   = draw.Colour{R: 138, G: 96, B: 12}
	layerDatum     = draw.Colour{R: 22, G: 70, B: 110}
	layerSheet     = draw.Colour{R: 70, G: 56, B: 120}
	layerSeam      = draw.Colour{R: 150, G: 30, B: 86}
	layerStand     = draw.Colour{R: 24, G: 96, B: 62}
	layerDensity   = draw.Colour{R: 150, G: 160, B: 188}
	layerFlow      = draw.Colour{R: 26, G: 84, B: 134}
)

// ScreenLayer draws one layer alone over what ScreenFrame says of a face, on nothing, to be laid over
// ScreenFace. The error is ctx's where it is cancelled, or says why the layer cannot be drawn.
func ScreenLayer(ctx context.Context, c draw.Canvas, w holemap.Work, face int, layer Layer, with ScreenWith) error {
	draws := map[Layer]func(*screen) error{
		LayerZones:   func(s *screen) error { s.zonesOver(); return nil },
		LayerDatum:   func(s *screen) error { s.heightsOver(); return nil },
		LayerTiles:   func(s *screen) error { return s.tilesOver(with.Cut) },
		LayerSeams:   func(s *screen) error { return s.seamsOver(with.Cut) },
		LayerStands:  func(s *screen) error { s.standsOver(with.Stands); return nil },
		LayerDensity: func(s *screen) error { s.densityOver(with.Composition.Density); return nil },
		LayerFlow:    func(s *screen) error { return s.flowOver(ctx, with.Composition) },
	}[layer]
	if draws == nil {
		return fmt.Errorf("%q is no layer of a picture", layer)
	}
	s, err := newScreen(c, w, face)
	if err != nil {
		return err
	}
	s.Group(string(layer))
	defer s.End()
	return draws(s)
}

// label writes a text, on white, at the first of the places that covers no other, and reports whether there
// was one.
func (s *screen) label(n note, places []plane.Rect, heavy bool, colour draw.Colour) bool {
	box, cost, found := s.spots.best(places)
	if !found || cost > 0 {
		return false
	}
	s.spots.take(box, worthText)
	knockout(s, box)
	if heavy {
		c := box.Centre()
		s.say(c.X, c.Y+n.height/2, n.height, n.lines[0], 0, style{align: draw.Centre, bold: true, colour: colour})
		return true
	}
	s.note(n, box, colour)
	return true
}

// oneLine is a note of one line.
func oneLine(text string, height float64) note { return note{lines: []string{text}, height: height} }

// The hatching of zones on a screen, mm of the paper.
const (
	screenForbidden = 1.6
	screenCaution   = 3.2
)

// zonesOver hatches the zones, closer and the other way where something is forbidden, and says in each what
// it is about, and why where there is room.
func (s *screen) zonesOver() {
	zones := s.zonesThatSpeak()
	strength := func(z wall.Zone) (pitch, angle float64, colour draw.Colour) {
		if z.Strength == wall.Caution {
			return screenCaution, cautionAngle, layerCaution
		}
		return screenForbidden, forbiddenAngle, layerForbidden
	}
	for _, z := range zones {
		pitch, angle, colour := strength(z)
		rings := s.mapping.rings(ringsOf(z.Shape))
		s.Group("zone " + z.Name)
		s.within(func() {
			draw.Hatch(s, rings, s.paper, pitch, angle, shade(hair, colour))
			s.Polygon(rings, draw.Paint{Stroke: draw.Stroke{Width: draw.Width025, Colour: colour, Dash: draw.Dashed}})
		})
		s.End()
	}
	said := map[string]bool{}
	for _, z := range zones {
		_, _, colour := strength(z)
		key := zoneWords(z) + z.Reason
		if !said[key] {
			said[key] = s.zoneReason(z, colour)
		}
	}
}

// zoneReason writes what a zone is about into it, or close to it.
func (s *screen) zoneReason(z wall.Zone, colour draw.Colour) bool {
	short := zoneWords(z)
	texts := []string{short}
	if z.Name != "" && z.Reason != "" {
		texts = []string{short + ": " + z.Reason, short}
	}
	area := s.mapping.box(z.Shape.Bounds()).Intersection(s.paper)
	inside := func(q plane.Point) bool { return z.Shape.Contains(s.back(q)) }
	for _, text := range texts {
		for _, n := range notesFor(text, draw.Letter25, area.Width(), area.Height(), 70, 6) {
			if whole := n.lines[len(n.lines)-1]; len(whole) > 3 && whole[len(whole)-3:] == "…" {
				continue
			}
			width, height := n.size()
			places := slices.DeleteFunc(everyPart(area, width, height), func(b plane.Rect) bool { return !cornersWithin(b, inside) })
			if s.label(n, places, false, colour) {
				return true
			}
		}
	}
	n := oneLine(short, least)
	width, height := n.size()
	var places []plane.Rect
	for _, r := range s.mapping.rings(ringsOf(z.Shape)) {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			for _, t := range []float64{0.5, 0.3, 0.7} {
				if a.Distance(b) > height {
					places = append(places, around(a.Lerp(b, t), width, height, 0.6, 2)...)
				}
			}
		}
	}
	return s.label(n, places, false, colour)
}

// everyPart returns boxes of the given size spread closely over the area, from its middle outwards.
func everyPart(area plane.Rect, width, height float64) []plane.Rect {
	out := scatterIn(area, width, height)
	for _, y := range []float64{0.2, 0.4, 0.6, 0.8, 0, 1} {
		for _, x := range []float64{0.2, 0.4, 0.6, 0.8, 0, 1} {
			corner := plane.Point{X: area.Min.X + x*(area.Width()-width), Y: area.Min.Y + y*(area.Height()-height)}
			if width <= area.Width() && height <= area.Height() {
				out = append(out, plane.Rect{Min: corner, Max: corner.Add(plane.Point{X: width, Y: height})})
			}
		}
	}
	return out
}

// within draws what stays inside the page.
func (s *screen) within(draws func()) {
	s.Clip(corners(s.paper))
	draws()
	s.Unclip()
}

// heightsOver draws the datum with its height, and level lines with theirs above what the plan measures
// heights from; on a face that does not stand upright the heights of its corners.
func (s *screen) heightsOver() {
	edge := s.mapping.box(s.bounds)
	datum, upright := s.datum()
	if !upright {
		s.cornerHeights()
		return
	}
	const close = 3.2 // mm of the paper, between two lines with words
	shown := datum >= s.bounds.Min.Y && datum <= s.bounds.Max.Y
	at := func(y float64) float64 { return s.mapping.at(plane.Point{Y: y}).Y }
	if shown {
		y := at(datum)
		s.line(edge.Min.X-screenRim/2, y, edge.Max.X+screenRim/2, y, draw.Stroke{Width: draw.Width035, Colour: layerDatum, Dash: draw.DashDot})
		n := oneLine("datum "+s.length(s.work.Site.Room.Datum), draw.Letter25)
		width, height := n.size()
		var places []plane.Rect
		for x := edge.Max.X - width; x >= edge.Min.X; x -= 4 {
			places = append(places, sized(plane.Point{X: x + width/2, Y: y - height/2 - 0.4}, width, height))
		}
		s.label(n, append(places, sized(plane.Point{X: edge.Centre().X, Y: y}, width, height)), true, layerDatum)
	}
	var used []float64
	if shown {
		used = append(used, at(datum))
	}
	for _, y := range s.levels() {
		py := at(y)
		if slices.ContainsFunc(used, func(other float64) bool { return math.Abs(other-py) < close }) {
			continue
		}
		used = append(used, py)
		s.line(edge.Min.X, py, edge.Max.X, py, draw.Stroke{Width: draw.Width018, Colour: layerDatum, Dash: draw.Dotted})
		n := oneLine(s.length(y+s.face.Frame.Origin.Z), least)
		width, height := n.size()
		up := py - height/2 - 0.2
		if up-height/2 < edge.Min.Y {
			up = py + height/2 + 0.2
		}
		s.label(n, []plane.Rect{
			sized(plane.Point{X: edge.Min.X + width/2 + 0.4, Y: up}, width, height),
			sized(plane.Point{X: edge.Min.X + width/2 + 0.4, Y: py}, width, height),
		}, false, layerDatum)
	}
}

// levels returns the heights on the face that are told: its top and foot, the edges of what stands on it,
// and round heights between.
func (s *screen) levels() []float64 {
	out := []float64{s.bounds.Max.Y, s.bounds.Min.Y}
	for _, o := range s.things {
		b := o.Shape.Bounds()
		for _, y := range edges(b, b.Min.Y, b.Max.Y) {
			if y > s.bounds.Min.Y && y < s.bounds.Max.Y {
				out = append(out, y)
			}
		}
	}
	step := 500.0
	if s.work.Units.Imperial() {
		step = 24 * inch
	}
	foot := s.face.Frame.Origin.Z
	for n := math.Ceil((s.bounds.Min.Y + foot) / step); n*step < s.bounds.Max.Y+foot; n++ {
		out = append(out, n*step-foot)
	}
	return out
}

// cornerHeights writes how high the corners of a face that lies or slopes are: once where all are level.
func (s *screen) cornerHeights() {
	places := s.turns()
	if len(places) == 0 {
		places = corners(s.bounds)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range places {
		low, high = math.Min(low, s.heightOf(c)), math.Max(high, s.heightOf(c))
	}
	if high-low < 0.5 {
		n := oneLine("level, at "+s.length(low), draw.Letter25)
		width, height := n.size()
		s.label(n, everyPart(s.mapping.box(s.bounds).Grow(-1), width, height), true, layerDatum)
		return
	}
	for _, c := range places {
		at := s.mapping.at(c)
		s.Circle(at, 0.7, draw.Paint{Fill: draw.Solid(layerDatum)})
		n := oneLine(s.length(s.heightOf(c)), least)
		width, height := n.size()
		s.label(n, around(at, width, height, 1, 4), false, layerDatum)
	}
}
