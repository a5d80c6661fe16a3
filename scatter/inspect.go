package scatter

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"wallshoal/scatter/poisson"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// A Flaw is the way in which a layout is not as Lay would have left it.
type Flaw int

// The flaws of a layout, the worst first.
const (
	BadHole  Flaw = iota + 1 // a hole where none may be drilled
	NotFree                  // a piece lies on something, or beyond an edge
	TooClose                 // two pieces overlap, or keep less than the plan asks
	Miscount                 // there are more or fewer pieces than the plan asks
)

// A Finding is one flaw of a layout, in plain words.
type Finding struct {
	Flaw  Flaw
	Piece int // its ID; 0 where the layout as a whole is meant
	Other int // the ID of the piece that it is too near to; 0 for none
	Wrong string
	Fix   string

	back string // Wrong as it is said of Other
}

// Of returns the finding as it is said of the piece with that ID: with that piece and the one that it is too near
// to in each other's place where it is Other. Of all other pieces it is as it was.
func (f Finding) Of(id int) Finding {
	if id == 0 || id != f.Other {
		return f
	}
	f.Piece, f.Other = f.Other, f.Piece
	f.Wrong, f.back = f.back, f.Wrong
	return f
}

// Inspect returns everything in which a layout is not as Lay would have left it for the same plan:
// holes where none may be drilled, pieces that do not lie free, pieces that are too near to one
// another, and numbers that are not those asked. Lengths in what it says are in the given unit, as
// sheets have them; finer where they would read as nothing, or as much as the plan asks.
// The findings are in the order of the flaws and then of the pieces. A layout that Lay made, and
// nobody has changed, has none.
//
// Every piece must have a kind and a face. The error is that of a site that cannot be measured.
func Inspect(site wall.Site, kinds []Kind, comp Composition, layout Layout, units measure.Unit) ([]Finding, error) {
	g, err := newGround(context.Background(), site, kinds, Composition{}, nil)
	if err != nil {
		return nil, err
	}
	i := inspector{ground: g, site: site, kinds: kinds, units: units, charts: map[int]int{}}
	for chart, face := range g.faces {
		i.charts[face] = chart
	}
	for _, p := range layout.Pieces {
		i.piece(p)
	}
	i.pairs(comp, layout.Pieces)
	i.counts(comp, layout.Pieces)
	slices.SortStableFunc(i.found, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.Flaw, b.Flaw), cmp.Compare(a.Piece, b.Piece))
	})
	return i.found, nil
}

// An inspector gathers findings.
type inspector struct {
	*ground
	site   wall.Site
	kinds  []Kind
	units  measure.Unit
	charts map[int]int // by face
	found  []Finding
}

func (i *inspector) add(f Flaw, piece int, wrong, fix string) {
	i.found = append(i.found, Finding{Flaw: f, Piece: piece, Wrong: wrong, Fix: fix})
}

// tooNear adds what is said of a piece that is too near to another; wrong says it with the other's ID.
func (i *inspector) tooNear(piece, other int, wrong func(other int) string) {
	const fix = "move or turn one of them"
	i.found = append(i.found, Finding{Flaw: TooClose, Piece: piece, Other: other, Wrong: wrong(other), Fix: fix, back: wrong(piece)})
}

// show writes a length that the plan gives.
func (i *inspector) show(mm float64) string { return measure.Precise(mm, i.units) }

// short writes a length that is shorter than the one that is asked.
func (i *inspector) short(mm, asked float64) string {
	if text := measure.Format(mm, i.units); text != measure.Format(asked, i.units) {
		return text
	}
	return i.show(mm)
}

// past writes how far something is past an edge.
func (i *inspector) past(mm float64) string {
	if text := measure.Format(mm, i.units); text != measure.Format(0, i.units) {
		return text
	}
	return i.show(mm)
}

// piece looks at the place of one piece.
func (i *inspector) piece(p Piece) {
	outline := p.Outline(i.kinds)
	chart, used := i.charts[p.Face]
	stands := placed{point: poisson.Point{Chart: chart, At: p.At}, kind: p.Kind, heading: p.Heading, outline: outline}
	if used && i.liesFree(&stands) && i.mayDrill(&stands, i.kinds[p.Kind]) {
		return
	}
	bad := false
	for h := range i.kinds[p.Kind].Holes {
		if where := i.hole(p, h); where != "" {
			i.add(BadHole, p.ID, i.holeName(p, h)+" "+where, "move or turn the piece")
			bad = true
		}
	}
	if bad || (used && i.room[chart][p.Kind].free.Holds(outline)) {
		return
	}
	i.add(NotFree, p.ID, i.lie(p, outline), "move or turn it, or change what the plan says of that place")
}

// holeName names the hole of p with that index.
func (i *inspector) holeName(p Piece, hole int) string {
	if len(i.kinds[p.Kind].Holes) == 1 {
		return "its hole"
	}
	return fmt.Sprintf("its hole %d", hole+1)
}

// hole says where the hole of p with that index falls if it cannot be drilled there, or nothing
// where it can.
func (i *inspector) hole(p Piece, hole int) string {
	at := p.HoleAt(i.kinds, hole)
	face := i.site.Faces[p.Face]
	if !face.Whole.Contains(at) {
		return "lies " + i.past(-face.Whole.Distance(at)) + " off " + i.site.Title(p.Face)
	}
	for _, o := range i.standing(face) {
		if o.Shape.Contains(at) {
			return "lies on the " + o.Name
		}
	}
	if !face.Outline.Contains(at) {
		return "lies behind something that stands before " + i.site.Title(p.Face)
	}
	load := i.kinds[p.Kind].Load()
	for _, z := range face.Zones {
		if z.Strength == wall.Forbidden && (z.Binds == wall.Holes || z.Concerns(load)) && z.Shape.Contains(at) {
			return "lies where the plan allows none: " + z.Name + " (" + z.Reason + ")"
		}
	}
	if reason, ok := face.MayDrill(at, i.kinds[p.Kind].Holes[hole].Bit); !ok {
		return reason
	}
	return ""
}

// standing returns what stands on the face or is let into it, without runs inside the wall, which
// have zones of their own.
func (i *inspector) standing(face wall.Face) []wall.Obstruction {
	if !face.IsWall() {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(i.site.Room.Walls[face.Wall].Obstructions), func(o wall.Obstruction) bool {
		return o.Kind == wall.Cable || o.Kind == wall.Pipe
	})
}

// lie says on what the piece lies that does not lie free.
func (i *inspector) lie(p Piece, outline plane.Ring) string {
	face := i.site.Faces[p.Face]
	title := i.site.Title(p.Face)
	if !face.Whole.Holds(outline) {
		return "reaches past the edge of " + title
	}
	for _, o := range i.standing(face) {
		if plane.RegionOf(o.Shape).Touches(outline) {
			return "lies on the " + o.Name
		}
	}
	if !face.Outline.Holds(outline) {
		return "lies behind something that stands before " + title
	}
	load := i.kinds[p.Kind].Load()
	for _, z := range face.Zones {
		if z.Strength == wall.Forbidden && z.Concerns(load) && z.Shape.Touches(outline) {
			return "lies where the plan allows no such piece: " + z.Name + " (" + z.Reason + ")"
		}
	}
	for _, o := range i.standing(face) {
		if plane.Closer(o.Shape, outline, o.Clearance) {
			return "comes nearer to the " + o.Name + " than its clearance of " + i.show(o.Clearance)
		}
	}
	if !face.Used {
		return title + " takes no pieces"
	}
	return "lies too near to an edge or a corner of " + title
}

// pairs looks for pieces that are too near to one another.
func (i *inspector) pairs(comp Composition, pieces []Piece) {
	for _, pair := range TooNear(i.site, i.kinds, pieces, comp.Distances()) {
		// Of two pieces the one that was hung later is taken to be in the way.
		a, b := pieces[pair.B], pieces[pair.A]
		i.tooNear(a.ID, b.ID, func(other int) string {
			switch pair.How {
			case Overlapping:
				if comp.Overlap > 0 {
					return fmt.Sprintf("overlaps piece %d by more than it may", other)
				}
				return fmt.Sprintf("overlaps piece %d", other)
			case Pierced:
				return fmt.Sprintf("overlaps piece %d where one of their holes is", other)
			case HolesClose:
				return fmt.Sprintf("has a hole %s from one of piece %d, and holes are to be %s apart", i.short(pair.Apart, comp.Seating.Holes), other, i.show(comp.Seating.Holes))
			case Crowded:
				return fmt.Sprintf("is %s from piece %d, and the gap is to be %s", i.short(pair.Apart, comp.Gap), other, i.show(comp.Gap))
			default: // Close
				return fmt.Sprintf("has its centre %s from that of piece %d, and the spacing is to be %s", i.short(pair.Apart, comp.Spacing), other, i.show(comp.Spacing))
			}
		})
	}
}

// counts compares how many pieces there are with how many there were to be.
func (i *inspector) counts(comp Composition, pieces []Piece) {
	if len(pieces) != comp.Count {
		i.add(Miscount, 0, fmt.Sprintf("there are %d pieces, and the plan asks for %d", len(pieces), comp.Count), "")
	}
	quotas, err := Quotas(i.kinds, comp.Count)
	if err != nil {
		return
	}
	have := make([]int, len(i.kinds))
	for _, p := range pieces {
		have[p.Kind]++
	}
	for kind, n := range have {
		if n != quotas[kind] {
			i.add(Miscount, 0, fmt.Sprintf("there are %d of %s, and the plan comes to %d", n, i.kinds[kind].Name, quotas[kind]), "")
		}
	}
}
