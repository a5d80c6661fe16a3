package wall

import (
	"math"

	"wallshoal/wall/plane"
)

// Distances of the rules, in mm.
const (
	cableEdge    = 150   // how far from the top of a wall and from a corner cables are usually run
	fireClose    = 152.4 // 6 in: nothing that burns so near to the opening of a fireplace
	fireFar      = 304.8 // 12 in: farther off the opening sets no limit
	fireSlope    = 8     // between the two, pieces may stand out an eighth of their distance
	heatNear     = 150
	visible      = 300
	airy         = 300
	sprinklerLow = 457  // 18 in
	panelWide    = 762  // 30 in
	panelHigh    = 1981 // 78 in
	routeFrom    = 685  // 27 in above the floor
	routeTo      = 2030 // 80 in above the floor
	routeLimit   = 100  // 4 in out from the wall
	lookUp       = "; local codes and licensed trades decide"
)

// A scene is what the rules look at: one wall and its face.
type scene struct {
	wall    Wall
	outline plane.Region
	corners ends
}

// A rule finds the zones of one sort. Shapes may reach beyond the face.
type rule func(scene) ([]Zone, error)

// wallRules are the rules that hold on a wall.
func wallRules() []rule {
	return []rule{
		accessoryBands, edgeBands, knownRuns, fireClearance, fireProjection, warmth, keepVisible,
		detectorAir, sprinklerSpace, panelSpace, routeProjection,
	}
}

// ceilingRules are those that hold overhead. Nobody runs cables by a rule there, and nothing that
// hangs there is in the way of a cane.
func ceilingRules() []rule {
	return []rule{knownRuns, fireClearance, fireProjection, warmth, keepVisible, detectorAir, sprinklerSpace}
}

// backRules are those that hold on the back of a wall that stands alone; what is on its front has
// no others there.
func backRules() []rule { return []rule{edgeBands, knownRuns, routeProjection} }

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
// panels, as wide as they are.
func accessoryBands(s scene) ([]Zone, error) {
	face := s.outline.Bounds()
	return s.each(func(o Obstruction) (Zone, error) {
		b := o.Shape.Bounds()
		upright := plane.Rectangle(plane.Point{X: b.Min.X, Y: face.Min.Y}, b.Width(), face.Height())
		level := plane.Rectangle(plane.Point{X: face.Min.X, Y: b.Min.Y}, face.Width(), b.Height())
		shape, err := plane.Union(plane.RegionOf(upright), plane.RegionOf(level))
		return Zone{
			Code: "cable-band", Strength: Caution, Binds: Holes, Shape: shape,
			Reason: cableReason, Source: cableSource,
		}, err
	}, Switch, Socket, Panel)
}

// edgeBands finds the bands along the top of the wall and beside its corners.
func edgeBands(s scene) ([]Zone, error) {
	face := s.outline.Bounds()
	zone := func(name string, shape plane.Region) Zone {
		return Zone{
			Code: "cable-band", Name: name, Strength: Caution, Binds: Holes, Shape: shape,
			Reason: cableReason, Source: cableSource,
		}
	}
	top, err := topBand(s.wall.Outline, cableEdge)
	if err != nil {
		return nil, err
	}
	zones := []Zone{zone("top of the wall", top)}
	if s.corners.left {
		side := plane.Rectangle(face.Min, cableEdge, face.Height())
		zones = append(zones, zone("left corner", plane.RegionOf(side)))
	}
	if s.corners.right {
		side := plane.Rectangle(plane.Point{X: face.Max.X - cableEdge, Y: face.Min.Y}, cableEdge, face.Height())
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

// fireClearance finds where nothing that burns may hang beside the opening of a fireplace.
func fireClearance(s scene) ([]Zone, error) {
	return s.each(func(o Obstruction) (Zone, error) {
		shape, err := o.grown(fireClose)
		return Zone{
			Code: "fire-opening", Strength: Forbidden, Binds: Combustible, Shape: shape,
			Reason: "nothing that burns within 152 mm (6 in) of a fireplace opening; a listed unit has its own distances" + lookUp,
			Source: "IRC 2018 R1001.11 exception 4, as quoted in trade press",
		}, err
	}, Fireplace)
}

// fireProjection finds where pieces that burn may stand out by an eighth of their distance from
// the opening of a fireplace and no more. It flags what stands out more than is allowed where the
// limit is strictest.
func fireProjection(s scene) ([]Zone, error) {
	return s.each(func(o Obstruction) (Zone, error) {
		far, err := o.grown(fireFar)
		if err != nil {
			return Zone{}, err
		}
		near, err := o.grown(fireClose)
		if err != nil {
			return Zone{}, err
		}
		shape, err := far.Difference(near)
		return Zone{
			Code: "fire-slope", Strength: Caution, Binds: Combustible, Limit: fireClose / fireSlope, Shape: shape,
			Reason: "up to 305 mm (12 in) from a fireplace opening, what burns stands out at most 1/8 of its distance" + lookUp,
			Source: "IRC 2018 R1001.11 exception 4, as quoted in trade press",
		}, err
	}, Fireplace)
}

// warmth finds what lies near things that get hot.
func warmth(s scene) ([]Zone, error) {
	return s.each(func(o Obstruction) (Zone, error) {
		shape, err := o.grown(heatNear)
		return Zone{
			Code: "heat", Strength: Caution, Binds: Combustible, Shape: shape,
			Reason: "heat from the " + string(o.Kind) + ": find out how warm the wall gets" + lookUp,
			Source: "common practice; check locally and in the maker's instructions",
		}, err
	}, Flue, Radiator, Lamp)
}

// keepVisible finds what lies near things that must be found in an emergency.
func keepVisible(s scene) ([]Zone, error) {
	return s.each(func(o Obstruction) (Zone, error) {
		shape, err := o.grown(visible)
		return Zone{
			Code: "keep-visible", Strength: Caution, Binds: Pieces, Shape: shape,
			Reason: "the " + string(o.Kind) + " must stay in plain view and within reach" + lookUp,
			Source: visibleSource(o.Kind),
		}, err
	}, ExitSign, ExitDoor, Extinguisher, CallPoint, Alarm)
}

// visibleSource returns what asks for a thing to be seen. None of it gives a distance.
func visibleSource(kind ObstructionKind) string {
	const noFigure = ", as adopted in Minnesota, gives no distance; 300 mm is common practice"
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
		shape, err := o.grown(airy)
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
		shape, err := o.grown(sprinklerLow)
		return Zone{
			Code: "sprinkler-space", Strength: Caution, Binds: Pieces, Shape: shape,
			Reason: "within 457 mm (18 in) of a sprinkler: ask whoever looks after the system" + lookUp,
			Source: "IFC 2018 §315.3.1 for storage; flat pieces along a wall are often let be",
		}, err
	}, Sprinkler)
}

// panelSpace finds the working space in front of electrical panels.
func panelSpace(s scene) ([]Zone, error) {
	return s.each(func(o Obstruction) (Zone, error) {
		b := o.Shape.Bounds()
		wide := math.Max(panelWide, b.Width())
		foot := s.outline.Bounds().Min.Y
		return Zone{
			Code: "panel-space", Strength: Caution, Binds: Pieces,
			Shape:  plane.RegionOf(plane.Rectangle(plane.Point{X: b.Centre().X - wide/2, Y: foot}, wide, panelHigh)),
			Reason: "working space before an electrical panel: keep it clear" + lookUp,
			Source: "IFC 2018 §604.3: 30 in wide, 78 in high",
		}, nil
	}, Panel)
}

// routeProjection finds the heights at which a cane does not find what stands out from a wall
// along a way that people walk.
func routeProjection(s scene) ([]Zone, error) {
	b := s.outline.Bounds()
	band := plane.Rectangle(plane.Point{X: b.Min.X, Y: routeFrom}, b.Width(), routeTo-routeFrom)
	return []Zone{{
		Code: "route-projection", Name: "walking height", Strength: Caution, Binds: Projecting,
		Limit: routeLimit, Shape: plane.RegionOf(band),
		Reason: "beside a way that people walk, nothing here stands out more than 100 mm (4 in)" + lookUp,
		Source: "ADA Standards 2010 §307.2",
	}}, nil
}
