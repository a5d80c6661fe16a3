package wall

import (
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// lookUp ends the reasons of what codes speak of.
const lookUp = "; local codes and licensed trades decide"

// A scene is what the rules look at: one wall and its face.
type scene struct {
	wall    Wall
	outline plane.Region
	corners ends
	frame   space.Frame
	rules   Rules // no figure of them is 0 but where that means something
}

// A rule finds the zones of one sort. Shapes may reach beyond the face.
type rule func(scene) ([]Zone, error)

// wallRules are the rules that hold on a wall.
func wallRules() []rule {
	return []rule{
		accessoryBands, edgeBands, knownRuns, farSide, fireClearance, fireProjection, warmth, keepVisible,
		detectorAir, sprinklerSpace, panelSpace, routeProjection,
	}
}

// ceilingRules are those that hold overhead. Nobody runs cables by a rule there, and nothing that
// hangs there is in the way of a cane.
func ceilingRules() []rule {
	return []rule{knownRuns, farSide, fireClearance, fireProjection, warmth, keepVisible, detectorAir, sprinklerSpace}
}

// backRules are those that hold on the back of a wall that stands alone. Of what is on its front only
// cables count there.
func backRules() []rule { return []rule{throughBands, edgeBands, knownRuns, routeProjection} }

// zones returns the marked zones, then what the rules find. Some reach beyond the wall.
func (s scene) zones(marked []Zone, rules []rule) ([]Zone, error) {
	found := append([]Zone(nil), marked...)
	for _, r := range rules {
		more, err := r(s)
		if err != nil {
			return nil, err
		}
		found = append(found, more...)
	}
	return found, nil
}

// each returns the zones that find makes for the obstructions of the given kinds.
func (s scene) each(find func(Obstruction) (Zone, error), kinds ...ObstructionKind) ([]Zone, error) {
	var zones []Zone
	for _, o := range s.wall.Obstructions {
		for _, k := range kinds {
			if o.Kind != k {
				continue
			}
			z, err := find(o)
			if err != nil {
				return nil, err
			}
			z.Name = o.Name
			zones = append(zones, z)
		}
	}
	return zones, nil
}

const cableReason = "cables are often run here: trace them before drilling; older work may follow no rule"

const cableSource = "BS 7671:2018 regulation 522.6.202(i), as quoted in trade guides; other countries differ"

// accessoryBands finds the bands straight up, down and to the sides of switches, sockets and
// whatever else a cable leads to, as wide as that is or as the rules have it.
func accessoryBands(s scene) ([]Zone, error) {
	return s.each(func(o Obstruction) (Zone, error) {
		shape, err := s.bands(o)
		return Zone{
			Code: "cable-band", Strength: Caution, Binds: Holes, Shape: shape,
			Reason: cableReason, Source: cableSource,
		}, err
	}, wired()...)
}

// throughBands finds the bands of what is on the other side of a wall so thin that cables to it may be
// met from this one.
func throughBands(s scene) ([]Zone, error) {
	if s.wall.Through() > s.rules.FarSide {
		return nil, nil
	}
	return s.each(func(o Obstruction) (Zone, error) {
		shape, err := s.bands(o)
		return throughBand(shape), err
	}, wired()...)
}

// throughBand returns the zone that bands from the other side of a wall make.
func throughBand(shape plane.Region) Zone {
	return Zone{
		Code: "cable-band", Strength: Caution, Binds: Holes, Shape: shape,
		Reason: "cables are often run here to what is on the other side of a thin wall: trace them before drilling",
		Source: cableSource,
	}
}

// bands returns the bands straight up, down and to the sides of o.
func (s scene) bands(o Obstruction) (plane.Region, error) {
	face, b := s.outline.Bounds(), o.Shape.Bounds()
	wide, high := math.Max(b.Width(), s.rules.CableWidth), math.Max(b.Height(), s.rules.CableWidth)
	upright := plane.Rectangle(plane.Point{X: b.Centre().X - wide/2, Y: face.Min.Y}, wide, face.Height())
	level := plane.Rectangle(plane.Point{X: face.Min.X, Y: b.Centre().Y - high/2}, face.Width(), high)
	return plane.Union(plane.RegionOf(upright), plane.RegionOf(level))
}

// edgeBands finds the bands along the top of the wall and beside its corners.
func edgeBands(s scene) ([]Zone, error) {
	face, edge := s.outline.Bounds(), s.rules.CableEdge
	zone := func(name string, shape plane.Region) Zone {
		return Zone{
			Code: "cable-band", Name: name, Strength: Caution, Binds: Holes, Shape: shape,
			Reason: cableReason, Source: cableSource,
		}
	}
	top, err := topBand(s.wall.Outline, edge)
	if err != nil {
		return nil, err
	}
	zones := []Zone{zone("top of the wall", top)}
	if s.corners.left {
		side := plane.Rectangle(face.Min, edge, face.Height())
		zones = append(zones, zone("left corner", plane.RegionOf(side)))
	}
	if s.corners.right {
		side := plane.Rectangle(plane.Point{X: face.Max.X - edge, Y: face.Min.Y}, edge, face.Height())
		zones = append(zones, zone("right corner", plane.RegionOf(side)))
	}
	return zones, nil
}

// topBand returns what lies below the top edges of the outline, level or sloping by up to 60°, by
// no more than depth mm square to the edge.
func topBand(outline plane.Ring, depth float64) (plane.Region, error) {
	var strips []plane.Region
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		run := a.X - b.X // above 0 where the wall lies below the edge
		if run <= 0 || math.Abs(b.Y-a.Y) > math.Sqrt(3)*run {
			continue
		}
		down := plane.Point{Y: -depth * a.Distance(b) / run}
		strips = append(strips, plane.RegionOf(plane.Ring{a, b, b.Add(down), a.Add(down)}))
	}
	return plane.Union(strips...)
}

// knownRuns finds what lies within the clearance of a known cable or pipe.
func knownRuns(s scene) ([]Zone, error) {
	return s.each(func(o Obstruction) (Zone, error) {
		shape, err := o.grown(o.Clearance)
		code := "cable-run"
		if o.Kind == Pipe {
			code = "pipe-run"
		}
		return Zone{
			Code: code, Strength: Forbidden, Binds: Holes, Shape: shape,
			Reason: "a known " + string(o.Kind) + " runs here: no holes",
			Source: "the plan; how far to keep off is common practice",
		}, err
	}, Cable, Pipe)
}

// warmth finds what lies near things that get hot.
func warmth(s scene) ([]Zone, error) {
	return s.each(func(o Obstruction) (Zone, error) {
		shape, err := o.grown(s.rules.Heat)
		return Zone{
			Code: "heat", Strength: Caution, Binds: Combustible, Shape: shape,
			Reason: "heat from the " + string(o.Kind) + ": find out how warm the wall gets, and what its maker's manual asks for" + lookUp,
			Source: "common practice; check locally and in the maker's instructions",
		}, err
	}, Flue, Radiator, Lamp)
}

// keepVisible finds what lies near things that must be found in an emergency.
func keepVisible(s scene) ([]Zone, error) {
	return s.each(func(o Obstruction) (Zone, error) {
		shape, err := o.grown(s.rules.Visible)
		return Zone{
			Code: "keep-visible", Strength: Caution, Binds: Pieces, Shape: shape,
			Reason: "the " + string(o.Kind) + " must stay in plain view and within reach" + lookUp,
			Source: visibleSource(o.Kind, s.rules.show(s.rules.Visible)),
		}, err
	}, ExitSign, ExitDoor, Extinguisher, CallPoint, Alarm)
}

// visibleSource returns what asks for a thing to be seen. None of it gives a distance.
func visibleSource(kind ObstructionKind, distance string) string {
	noFigure := ", as adopted in Minnesota, gives no distance; " + distance + " is common practice or the plan's"
	switch kind {
	case ExitSign:
		return "IFC 2018 §1031.4" + noFigure
	case ExitDoor:
		return "IFC 2018 §1031.6" + noFigure
	case Extinguisher:
		return "IFC 2018 §906.5 and 906.6" + noFigure
	case CallPoint:
		return "IFC 2018 §907.4.2.6" + noFigure
	}
	return "common practice; check locally"
}

// detectorAir finds what lies so near a detector that it may keep smoke and warm air from it.
func detectorAir(s scene) ([]Zone, error) {
	return s.each(func(o Obstruction) (Zone, error) {
		shape, err := o.grown(s.rules.Detector)
		return Zone{
			Code: "detector-air", Strength: Caution, Binds: Pieces, Shape: shape,
			Reason: "smoke and warm air must reach the detector freely: ask whoever looks after it" + lookUp,
			Source: "common practice; check locally and in the maker's instructions",
		}, err
	}, Detector)
}

// sprinklerSpace finds what lies level with a sprinkler or below it, near enough to be in its
// spray.
func sprinklerSpace(s scene) ([]Zone, error) {
	return s.each(func(o Obstruction) (Zone, error) {
		shape, err := o.grown(s.rules.Sprinkler)
		return Zone{
			Code: "sprinkler-space", Strength: Caution, Binds: Pieces, Shape: shape,
			Reason: "within " + s.rules.show(s.rules.Sprinkler) + " of a sprinkler: ask whoever looks after the system" + lookUp,
			Source: "IFC 2018 §315.3.1 for storage; flat pieces along a wall are often let be",
		}, err
	}, Sprinkler)
}

// panelSpace finds the working space in front of electrical panels.
func panelSpace(s scene) ([]Zone, error) {
	return s.each(func(o Obstruction) (Zone, error) {
		b := o.Shape.Bounds()
		wide := math.Max(s.rules.PanelWidth, b.Width())
		foot := s.wall.FootAt(b.Centre().X)
		return Zone{
			Code: "panel-space", Strength: Caution, Binds: Pieces,
			Shape:  plane.RegionOf(plane.Rectangle(plane.Point{X: b.Centre().X - wide/2, Y: foot}, wide, s.rules.PanelTop)),
			Reason: "working space before an electrical panel: keep it clear" + lookUp,
			Source: "IFC 2018 §604.3: 30 in wide, 78 in high",
		}, nil
	}, Panel)
}

// routeProjection finds the heights at which a cane does not find what stands out from a wall
// along a way that people walk.
func routeProjection(s scene) ([]Zone, error) {
	r := s.rules
	if r.RouteTo <= r.RouteFrom {
		return nil, nil
	}
	band, err := s.aboveFloor(r.RouteFrom, r.RouteTo)
	return []Zone{{
		Code: "route-projection", Name: "walking height", Strength: Caution, Binds: Projecting,
		Limit: r.RouteOut, Shape: band,
		Reason: "beside a way that people walk, nothing here stands out more than " + r.show(r.RouteOut) + lookUp,
		Source: "ADA Standards 2010 §307.2",
	}}, err
}

// aboveFloor returns what of the wall lies from low to high mm above the floor under it.
func (s scene) aboveFloor(low, high float64) (plane.Region, error) {
	var parts []plane.Region
	for _, f := range s.wall.floors() {
		up, top := plane.Point{Y: low}, plane.Point{Y: high}
		parts = append(parts, plane.RegionOf(plane.Ring{f.a.Add(up), f.b.Add(up), f.b.Add(top), f.a.Add(top)}))
	}
	return plane.Union(parts...)
}
