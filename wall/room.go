// Package wall is the site: the walls of a room, what stands on them, and where pieces and holes
// may go.
//
// What stands out of a wall is solid from the wall's own plane to its depth, whatever stands there
// as well; what is let in goes back from the surface that it lies wholly on. A face is what of a
// side has air before it and something solid behind it: of things that cover one another the
// nearest is seen, and where two sides lie in one plane each place belongs to one of them.
//
// Lengths are millimetres. A face is seen square-on from inside the room: the origin is its
// bottom-left corner, x runs right, y runs up. A Room is what a person measured; Survey turns it
// into a Site, whose faces have a place in the room, zones, and free regions.
package wall

import (
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Room is a row of walls in order, left to right as seen from inside it, each joined to the one
// before it unless it stands alone.
type Room struct {
	Walls   []Wall
	Datum   float64 // height of the level line that everything is measured from, mm above the floor
	Ceiling *Wall   // nil for none; its outline comes from the walls, and its turn says nothing
	Rules   Rules   // figures of the usual cautions; the zero value has what is usual
}

// A Wall is one flat wall of a room.
type Wall struct {
	Name    string
	Turn    float64    // to the next wall, in degrees: 90 an inside corner, -90 an outside corner, 0 straight on
	Outline plane.Ring // counter-clockwise; its box starts at x = 0, and y = 0 is the floor
	Surface Surface
	Bare    bool    // the wall takes no pieces: it only holds its place in the room
	Margin  float64 // pieces keep this far from the wall's edges, mm
	Alone   *Stand  // how a wall stands that is joined to no other; nil for one that is joined
	Ceiling bool    // it is the ceiling of a site

	// Floor is how the floor runs where that was measured: how far from the left end, and how high above
	// y = 0, mm, from left to right.
	Floor []plane.Point

	Studs    *Studs  // behind the surface; nil where nothing is known of them
	Joints   *Joints // of masonry or tiles; nil where nothing is known of them
	HoleEdge float64 // holes keep this far from the edges of its faces and from openings, mm

	Thickness float64       // from side to side, mm; 0 where it is not known. Of one that stands alone Alone has it
	Behind    Behind        // what lies on its other side; empty where the plan does not say
	FarSide   []Obstruction // what is known to be on the other side, as measured on this one

	Obstructions []Obstruction
	Marked       []Zone // zones that the plan itself names
}

// A Stand is how a wall stands that is joined to no other: a screen, a panel of a fence.
type Stand struct {
	At        *plane.Point // of its left end in plan, in the room's X and Y; nil where it follows the wall before it
	Angle     float64      // with At: its turn from the direction of the first wall, in degrees, as turns are counted
	Gap       float64      // without At: how far after the end of the wall before it it begins, mm
	Thickness float64      // mm
	Back      bool         // it has a face behind as well
}

// A Surface is what a wall is made of, as far as drilling is concerned.
type Surface string

// The surfaces that a plan can name.
const (
	Plasterboard Surface = "plasterboard"
	Plaster      Surface = "plaster" // on lath
	Brick        Surface = "brick"
	Block        Surface = "block"
	Concrete     Surface = "concrete"
	Timber       Surface = "timber"
	Tile         Surface = "tile"
	Stone        Surface = "stone"
	Glass        Surface = "glass" // panes, glass bricks, mirrors
)

// Surfaces returns every surface a plan can name, in alphabetical order.
func Surfaces() []Surface {
	return []Surface{Block, Brick, Concrete, Glass, Plaster, Plasterboard, Stone, Tile, Timber}
}

// Dusty reports whether drilling s makes mineral dust.
func (s Surface) Dusty() bool {
	switch s {
	case Brick, Block, Concrete, Plaster, Stone, Tile, Glass:
		return true
	}
	return false
}

// An Obstruction is something on a wall that pieces keep clear of.
type Obstruction struct {
	Kind      ObstructionKind
	Name      string     // as the sheets show it; never empty
	Shape     plane.Ring // on the wall, counter-clockwise
	Round     bool       // Shape approximates an ellipse that fills its box
	Depth     float64    // how far it stands out of the wall, mm; below 0 for a recess, from the surface it is let into
	Clearance float64    // pieces keep this far from it, mm
	Use       []Side     // its own sides that carry pieces, or All; see Sides
	Margin    *float64   // pieces keep this far from the edges of those sides, mm; nil for the wall's, or less on narrow ones
}

// Strength says what a zone does to what it binds.
type Strength string

// A forbidden zone takes nothing that it binds; in a caution zone what it binds is flagged.
const (
	Forbidden Strength = "forbidden"
	Caution   Strength = "caution"
)

// Binding says what a zone speaks of.
type Binding string

// What a zone can bind.
const (
	Pieces      Binding = "pieces"      // any part of any piece
	Holes       Binding = "holes"       // the centre of any hole
	Combustible Binding = "combustible" // any part of a piece that burns
	Projecting  Binding = "projecting"  // any part of a piece that stands out more than Limit
)

// A Zone is a part of a face where something may not go, or may go with a caution.
type Zone struct {
	Code     string // the rule that made it, e.g. "cable-band"
	Name     string // what it belongs to, e.g. "socket by the door"
	Shape    plane.Region
	Strength Strength
	Binds    Binding
	Limit    float64 // with Projecting or Combustible: the stand-off above which it binds, mm
	Slope    float64 // above 0: pieces may stand out so many mm for every mm that they are off; Limit is then the least
	Reason   string  // in plain words
	Source   string  // where the figure comes from

	from       plane.Ring  // with a slope: what pieces are off from, on the wall
	wall, face space.Frame // with a slope: of the wall, and of the face that the zone is on
}

// Concerns reports whether the zone binds a piece that loads the face with l, wherever in the zone
// some part of it lies. A zone that binds holes concerns no piece as such.
func (z Zone) Concerns(l Load) bool {
	switch z.Binds {
	case Pieces:
		return true
	case Combustible:
		return l.Combustible && (z.Limit == 0 || l.StandOff > z.Limit)
	case Projecting:
		return l.StandOff > z.Limit
	}
	return false
}

// A Problem is one thing wrong with what was measured or asked for.
type Problem struct {
	Field string // as in the plan, e.g. "room.walls[0].obstructions[2].width"
	Wrong string // what was found
	Fix   string // what to write instead
}

// Error returns the problem on one line.
func (p Problem) Error() string { return p.Field + ": " + p.Wrong + "; " + p.Fix }
