// Package scatter composes the work: it places pieces of several kinds on the faces of a site,
// so that they move one way, keep their distance, and stay off what they must stay off.
//
// Two pieces keep their distance as wall.Way measures it: along the surface round an outside corner,
// straight through the room across an inside one. A piece lies whole on one face. In an inside
// corner it also keeps off the next face: no part of its outline is nearer to the corner than the
// highest stand-off of all kinds over the tangent of half the angle between the faces, so that no
// body, the outline raised by its stand-off, reaches into another's or into the wall.
//
// How far apart pieces lie varies as the density asked for, but never below the spacing: of two
// pieces in places of different density the smaller distance counts (see poisson). Lay searches for
// the widest distances at which the number asked still fits, with real outlines, headings and holes
// judged piece by piece; what stands is then trimmed to the number, the most crowded first, and kinds
// are swapped until they lie among one another as asked. A piece of which a hole falls badly gives
// way a little first, and says so (Seat). What is kept of another layout stays as it is (LayFrom).
//
// Everything here is a value in and a value out. The same site, kinds, composition and seed give
// the same layout on every machine: places are rounded to 0.01 mm and bearings to 0.01° when they
// are chosen, and every decision is made on the rounded figures.
package scatter

import (
	"fmt"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A Kind is one kind of piece: its outline, its holes, and how many there are to be.
//
// A piece's own frame has its origin at the centroid of the outline and +x the way the piece
// heads, so that a piece heading straight up on a face is turned by 90°.
type Kind struct {
	Name, Code  string
	Outline     plane.Ring // counter-clockwise, mm
	Holes       []Hole     // at least one
	StandOff    float64    // how far the piece stands out from the face, mm
	Weight      float64    // grams; 0 where not known
	Combustible bool
	Sharp       bool // it has edges or points that can cut
	Colour      Colour
	Offset      float64 // how far it is turned from where the flow would have it head, degrees clockwise
	Of          string  // what its forms and sizes have in common; Name where it has only one
	Form, Size  string  // which of several forms and sizes of the same it is; empty where there is one
	Count       int     // pieces of this kind; 0 where Share decides
	Share       float64 // part of what is left after the counted kinds, against the other shares; 0 beside no count for none
}

// A Hole is one hole that a piece needs in the wall.
type Hole struct {
	At     plane.Point // in the piece's own frame, mm
	Bit    float64     // diameter of the bit, mm
	Depth  float64     // how deep to drill, mm
	Fixing string      // what goes in
	Anchor Anchor      // how that holds; empty where the bit decides
}

// An Anchor says how a fixing holds in masonry, as far as edges and other fixings matter to it.
type Anchor string

// How a fixing can hold.
const (
	Pin       Anchor = "pin"       // by its fit alone: it presses on nothing
	Plug      Anchor = "plug"      // a plastic plug that the screw spreads
	Expansion Anchor = "expansion" // a metal anchor that spreads
)

// Anchors returns every way in which a fixing can hold.
func Anchors() []Anchor { return []Anchor{Pin, Plug, Expansion} }

// A Colour is an opaque colour of the sRGB space.
type Colour struct{ R, G, B uint8 }

// Hex returns the colour as style sheets write it, like #6f8ea3.
func (c Colour) Hex() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// A Piece is one piece in its place.
type Piece struct {
	ID      int // from 1, in hanging order when first laid; stays with the piece
	Kind    int // index into the kinds
	Face    int // index into the faces of the site
	At      plane.Point
	Heading heading.Bearing
	Locked  bool
}

// A Layout is the composition as placed, ordered by ID.
type Layout struct {
	Seed   uint64
	Pieces []Piece
	Seated []Seat // which pieces stand otherwise than they were thrown; only of a layout just laid
}

// Outline returns the outline of p on its face.
func (p Piece) Outline(kinds []Kind) plane.Ring {
	return place(kinds[p.Kind].Outline, p.At, p.Heading)
}

// HoleAt returns where the hole of p with index i is drilled in its face, to 0.001 mm.
func (p Piece) HoleAt(kinds []Kind, i int) plane.Point {
	return kinds[p.Kind].holeAt(i, p.At, p.Heading)
}

func (k Kind) holeAt(i int, at plane.Point, b heading.Bearing) plane.Point {
	return k.Holes[i].At.Rotate(b.Angle()).Add(at).Snap(micron)
}

// micron is how many steps a millimetre has where turned outlines and holes are rounded.
const micron = 1000

func place(ring plane.Ring, at plane.Point, b heading.Bearing) plane.Ring {
	turned := ring.Place(at, b.Angle())
	for i, p := range turned {
		turned[i] = p.Snap(micron)
	}
	return turned
}

// Load returns what a face needs to know of the kind to say where it may go.
func (k Kind) Load() wall.Load {
	return wall.Load{Combustible: k.Combustible, StandOff: k.StandOff}
}
