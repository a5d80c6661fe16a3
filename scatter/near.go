package scatter

import (
	"cmp"
	"math"
	"slices"

	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// Distances are what pieces keep from one another.
type Distances struct {
	Spacing float64 // between centres, measured in the room, mm; 0 for none
	Gap     float64 // between outlines, mm; 0 where they only may not overlap
	Overlap float64 // share of a piece's outline that another may cover; above 0, Gap does not count
	Holes   float64 // between the holes of different pieces, mm; 0 for none
}

// Distances returns what the composition asks for.
func (comp Composition) Distances() Distances {
	return Distances{comp.Spacing, comp.Gap, comp.Overlap, comp.Seating.Holes}
}

// A Nearness says how two pieces are too near to one another.
type Nearness int

// Two outlines share more of the wall than they may; a hole of one opens under the other, where they
// may overlap; two holes, two outlines or two centres are closer together than they may be.
const (
	Overlapping Nearness = iota + 1
	Pierced
	HolesClose
	Crowded
	Close
)

// A Pair is two pieces that are too near to one another.
type Pair struct {
	A, B  int // indices into the pieces, A before B
	How   Nearness
	Apart float64 // between what is too close, mm
}

// MostPairs is how many pairs are looked for: a layout with so many is not mended pair by pair.
const MostPairs = 20_000

// grain is how much nearer than asked two pieces may be before it is said, in mm: what is written
// down in hundredths of a millimetre is not nearer than it was meant to be.
const grain = 0.01

// TooNear returns the pairs of pieces that are nearer to one another than the distances allow; each
// pair once, for the worst of the ways. With no distances at all these are the pairs that overlap.
// Past MostPairs it looks for no more. The pairs are in the order of the pieces.
func TooNear(site wall.Site, kinds []Kind, pieces []Piece, keep Distances) []Pair {
	n := nearness{kinds: kinds, pieces: pieces, keep: keep, found: map[[2]int]Pair{}}
	n.outlines()
	if keep.Spacing > 0 {
		n.centres(site, keep.Spacing)
	}
	pairs := make([]Pair, 0, len(n.found))
	for _, p := range n.found {
		pairs = append(pairs, p)
	}
	slices.SortFunc(pairs, func(p, q Pair) int { return cmp.Or(cmp.Compare(p.A, q.A), cmp.Compare(p.B, q.B)) })
	return pairs
}

// A nearness gathers pairs.
type nearness struct {
	kinds  []Kind
	pieces []Piece
	keep   Distances
	found  map[[2]int]Pair
}

func (n *nearness) full() bool { return len(n.found) >= MostPairs }

func (n *nearness) add(a, b int, how Nearness, apart float64) {
	pair := [2]int{min(a, b), max(a, b)}
	if before, known := n.found[pair]; !known || how < before.How {
		n.found[pair] = Pair{pair[0], pair[1], how, apart}
	}
}

// A laid piece is one with its outline on its face.
type laid struct {
	index   int
	outline plane.Ring
	box     plane.Rect
}

// outlines finds the pairs of which the outlines are too near: from left to right on each face,
// every piece is compared with those that begin before it ends.
func (n *nearness) outlines() {
	gap := math.Max(n.keep.Gap, n.keep.Holes)
	byFace := map[int][]laid{}
	var faces []int
	for i, p := range n.pieces {
		if byFace[p.Face] == nil {
			faces = append(faces, p.Face)
		}
		ring := p.Outline(n.kinds)
		byFace[p.Face] = append(byFace[p.Face], laid{i, ring, ring.Bounds()})
	}
	for _, f := range faces {
		row := byFace[f]
		slices.SortFunc(row, func(a, b laid) int {
			return cmp.Or(cmp.Compare(a.box.Min.X, b.box.Min.X), cmp.Compare(a.index, b.index))
		})
		for i, a := range row {
			for _, b := range row[i+1:] {
				if b.box.Min.X > a.box.Max.X+gap || n.full() {
					break
				}
				if a.box.Grow(gap).Overlaps(b.box) {
					n.compare(a, b)
				}
			}
		}
	}
}

func (n *nearness) compare(a, b laid) {
	p, q := n.pieces[a.index], n.pieces[b.index]
	if d := holesApart(n.kinds, p, q); d < n.keep.Holes-grain {
		n.add(a.index, b.index, HolesClose, d)
	}
	if !plane.Closer(a.outline, b.outline, math.Max(0, n.keep.Gap-grain)) {
		return
	}
	switch touching := plane.RegionOf(a.outline).Touches(b.outline); {
	case touching && n.keep.Overlap == 0:
		n.add(a.index, b.index, Overlapping, 0)
	case touching && (pierces(n.kinds, p, b) || pierces(n.kinds, q, a)):
		n.add(a.index, b.index, Pierced, 0)
	case touching && covered(n.kinds, p, q, a.outline, b.outline) > n.keep.Overlap+0.001: // places are written in hundredths
		n.add(a.index, b.index, Overlapping, 0)
	case !touching && n.keep.Gap > 0:
		n.add(a.index, b.index, Crowded, apart(a.outline, b.outline))
	}
}

// covered returns the share of an outline that the other covers, of the one that lies under the
// other, or the greater where they stand out alike.
func covered(kinds []Kind, p, q Piece, of, by plane.Ring) float64 {
	least := math.Inf(1)
	up, uq := kinds[p.Kind].StandOff, kinds[q.Kind].StandOff
	if up <= uq {
		least = math.Abs(of.Area())
	}
	if uq <= up {
		least = math.Min(least, math.Abs(by.Area()))
	}
	return plane.Shared(of, by) / least
}

// pierces reports whether a hole of p opens under or through the other piece.
func pierces(kinds []Kind, p Piece, other laid) bool {
	for i, h := range kinds[p.Kind].Holes {
		at := p.HoleAt(kinds, i)
		if other.box.Grow(h.Bit).Contains(at) && plane.Closer(plane.Ring{at}, other.outline, h.Bit/2) {
			return true
		}
	}
	return false
}

// holesApart returns the least distance between a hole of p and one of q, which are on one face.
func holesApart(kinds []Kind, p, q Piece) float64 {
	least := math.Inf(1)
	for i := range kinds[p.Kind].Holes {
		at := p.HoleAt(kinds, i)
		for k := range kinds[q.Kind].Holes {
			least = math.Min(least, at.Distance(q.HoleAt(kinds, k)))
		}
	}
	return least
}

// apart returns the distance between two outlines that do not cross, in mm.
func apart(r, s plane.Ring) float64 {
	least := math.Inf(1)
	for _, rings := range [2][2]plane.Ring{{r, s}, {s, r}} {
		for _, p := range rings[0] {
			for i, a := range rings[1] {
				least = math.Min(least, plane.SegmentDistance(p, a, rings[1][(i+1)%len(rings[1])]))
			}
		}
	}
	return least
}

// centres finds the pairs of which the centres are too close. No way along or between faces is
// shorter than the straight one, so only pieces in neighbouring cubes of the room can be.
func (n *nearness) centres(site wall.Site, spacing float64) {
	var ways *wall.Ways // found once two faces are compared
	cubes := map[[3]int][]int{}
	for i, p := range n.pieces {
		at := site.Faces[p.Face].Frame.At(p.At)
		home := cubeOf(at, spacing)
		for x := home[0] - 1; x <= home[0]+1; x++ {
			for y := home[1] - 1; y <= home[1]+1; y++ {
				for z := home[2] - 1; z <= home[2]+1; z++ {
					for _, j := range cubes[[3]int{x, y, z}] {
						q := n.pieces[j]
						d := p.At.Distance(q.At)
						if p.Face != q.Face {
							if ways == nil {
								ways = site.Ways()
							}
							d = ways.Apart(p.Face, p.At, q.Face, q.At)
						}
						if d < spacing-grain && !n.full() {
							n.add(j, i, Close, d)
						}
					}
				}
			}
		}
		if n.full() {
			return
		}
		cubes[home] = append(cubes[home], i)
	}
}

func cubeOf(at space.Vec, size float64) [3]int {
	return [3]int{int(math.Floor(at.X / size)), int(math.Floor(at.Y / size)), int(math.Floor(at.Z / size))}
}
