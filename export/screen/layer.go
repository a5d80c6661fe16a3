package screen

import (
	"context"
	"fmt"
	"math"
	"slices"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/sheet"
	"wallshoal/export/stand"
	"wallshoal/export/tiling"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A Layer is what can be laid over the picture of a face.
type Layer string

// The layers, and what of With they are drawn from.
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

// With is what the layers need that a work does not hold.
type With struct {
	Cut         tiling.Cut // of the work
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

// DrawLayer draws one layer alone over what Frame says of a face, on nothing, to be laid over
// Face. The error is ctx's where it is cancelled, or says why the layer cannot be drawn.
func DrawLayer(ctx context.Context, c draw.Canvas, w holemap.Work, face int, layer Layer, with With) error {
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
func (s *screen) label(n drafting.Note, places []plane.Rect, heavy bool, colour draw.Colour) bool {
	box, cost, found := s.Spots.Best(places)
	if !found || cost > 0 {
		return false
	}
	s.Spots.Take(box, elevation.WorthText)
	drafting.Knockout(s, box)
	if heavy {
		c := box.Centre()
		s.Say(c.X, c.Y+n.Height/2, n.Height, n.Lines[0], 0, drafting.Style{Align: draw.Centre, Bold: true, Colour: colour})
		return true
	}
	s.Note(n, box, colour)
	return true
}

// oneLine is a note of one line.
func oneLine(text string, height float64) drafting.Note {
	return drafting.Note{Lines: []string{text}, Height: height}
}

// The hatching of zones on a screen, mm of the paper.
const (
	screenForbidden = 1.6
	screenCaution   = 3.2
)

// zonesOver hatches the zones, closer and the other way where something is forbidden, and says in each what
// it is about, and why where there is room.
func (s *screen) zonesOver() {
	zones := s.ZonesThatSpeak()
	strength := func(z wall.Zone) (pitch, angle float64, colour draw.Colour) {
		if z.Strength == wall.Caution {
			return screenCaution, sheet.CautionAngle, layerCaution
		}
		return screenForbidden, sheet.ForbiddenAngle, layerForbidden
	}
	for _, z := range zones {
		pitch, angle, colour := strength(z)
		rings := s.Mapping.Rings(z.Shape.Rings())
		s.Group("zone " + z.Name)
		s.within(func() {
			draw.Hatch(s, rings, s.paper, pitch, angle, drafting.Shade(drafting.Hair, colour))
			s.Polygon(rings, draw.Paint{Stroke: draw.Stroke{Width: draw.Width025, Colour: colour, Dash: draw.Dashed}})
		})
		s.End()
	}
	said := map[string]bool{}
	for _, z := range zones {
		_, _, colour := strength(z)
		key := sheet.ZoneWords(z) + z.Reason
		if !said[key] {
			said[key] = s.zoneReason(z, colour)
		}
	}
}

// zoneReason writes what a zone is about into it, or close to it.
func (s *screen) zoneReason(z wall.Zone, colour draw.Colour) bool {
	short := sheet.ZoneWords(z)
	texts := []string{short}
	if z.Name != "" && z.Reason != "" {
		texts = []string{short + ": " + z.Reason, short}
	}
	area := s.Mapping.Box(z.Shape.Bounds()).Intersection(s.paper)
	inside := func(q plane.Point) bool { return z.Shape.Contains(s.Back(q)) }
	for _, text := range texts {
		for _, n := range drafting.NotesFor(text, draw.Letter25, area.Width(), area.Height(), 70, 6) {
			if whole := n.Lines[len(n.Lines)-1]; len(whole) > 3 && whole[len(whole)-3:] == "…" {
				continue
			}
			width, height := n.Size()
			places := slices.DeleteFunc(everyPart(area, width, height), func(b plane.Rect) bool { return !drafting.CornersWithin(b, inside) })
			if s.label(n, places, false, colour) {
				return true
			}
		}
	}
	n := oneLine(short, drafting.Least)
	width, height := n.Size()
	var places []plane.Rect
	for _, r := range s.Mapping.Rings(z.Shape.Rings()) {
		for i, a := range r {
			b := r[(i+1)%len(r)]
			for _, t := range []float64{0.5, 0.3, 0.7} {
				if a.Distance(b) > height {
					places = append(places, drafting.Around(a.Lerp(b, t), width, height, 0.6, 2)...)
				}
			}
		}
	}
	return s.label(n, places, false, colour)
}

// everyPart returns boxes of the given size spread closely over the area, from its middle outwards.
func everyPart(area plane.Rect, width, height float64) []plane.Rect {
	out := drafting.ScatterIn(area, width, height)
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
	s.Clip(drafting.Corners(s.paper))
	draws()
	s.Unclip()
}

// heightsOver draws the datum with its height, and level lines with theirs above what the plan measures
// heights from; on a face that does not stand upright the heights of its corners.
func (s *screen) heightsOver() {
	edge := s.Mapping.Box(s.Bounds)
	datum, upright := s.Datum()
	if !upright {
		s.cornerHeights()
		return
	}
	const close = 3.2 // mm of the paper, between two lines with words
	shown := datum >= s.Bounds.Min.Y && datum <= s.Bounds.Max.Y
	at := func(y float64) float64 { return s.Mapping.At(plane.Point{Y: y}).Y }
	if shown {
		y := at(datum)
		s.Segment(edge.Min.X-screenRim/2, y, edge.Max.X+screenRim/2, y, draw.Stroke{Width: draw.Width035, Colour: layerDatum, Dash: draw.DashDot})
		n := oneLine("datum "+s.Length(s.Work.Site.Room.Datum), draw.Letter25)
		width, height := n.Size()
		var places []plane.Rect
		for x := edge.Max.X - width; x >= edge.Min.X; x -= 4 {
			places = append(places, drafting.BoxAt(plane.Point{X: x + width/2, Y: y - height/2 - 0.4}, width, height))
		}
		s.label(n, append(places, drafting.BoxAt(plane.Point{X: edge.Centre().X, Y: y}, width, height)), true, layerDatum)
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
		s.Segment(edge.Min.X, py, edge.Max.X, py, draw.Stroke{Width: draw.Width018, Colour: layerDatum, Dash: draw.Dotted})
		n := oneLine(s.Length(y+s.Face.Frame.Origin.Z), drafting.Least)
		width, height := n.Size()
		up := py - height/2 - 0.2
		if up-height/2 < edge.Min.Y {
			up = py + height/2 + 0.2
		}
		s.label(n, []plane.Rect{
			drafting.BoxAt(plane.Point{X: edge.Min.X + width/2 + 0.4, Y: up}, width, height),
			drafting.BoxAt(plane.Point{X: edge.Min.X + width/2 + 0.4, Y: py}, width, height),
		}, false, layerDatum)
	}
}

// levels returns the heights on the face that are told: its top and foot, the edges of what stands on it,
// and round heights between.
func (s *screen) levels() []float64 {
	out := []float64{s.Bounds.Max.Y, s.Bounds.Min.Y}
	for _, o := range s.Things {
		b := o.Shape.Bounds()
		for _, y := range elevation.Edges(b, b.Min.Y, b.Max.Y) {
			if y > s.Bounds.Min.Y && y < s.Bounds.Max.Y {
				out = append(out, y)
			}
		}
	}
	step := 500.0
	if s.Work.Units.Imperial() {
		step = 24 * drafting.Inch
	}
	foot := s.Face.Frame.Origin.Z
	for n := math.Ceil((s.Bounds.Min.Y + foot) / step); n*step < s.Bounds.Max.Y+foot; n++ {
		out = append(out, n*step-foot)
	}
	return out
}

// cornerHeights writes how high the corners of a face that lies or slopes are: once where all are level.
func (s *screen) cornerHeights() {
	places := s.Turns()
	if len(places) == 0 {
		places = drafting.Corners(s.Bounds)
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, c := range places {
		low, high = math.Min(low, s.HeightOf(c)), math.Max(high, s.HeightOf(c))
	}
	if high-low < 0.5 {
		n := oneLine("level, at "+s.Length(low), draw.Letter25)
		width, height := n.Size()
		s.label(n, everyPart(s.Mapping.Box(s.Bounds).Grow(-1), width, height), true, layerDatum)
		return
	}
	for _, c := range places {
		at := s.Mapping.At(c)
		s.Circle(at, 0.7, draw.Paint{Fill: draw.Solid(layerDatum)})
		n := oneLine(s.Length(s.HeightOf(c)), drafting.Least)
		width, height := n.Size()
		s.label(n, drafting.Around(at, width, height, 1, 4), false, layerDatum)
	}
}
