package density

import (
	"math"
	"math/rand/v2"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// Clumps draw the work together into tight groups with air between them, in every direction alike.
// A group is a rounded body in the room, so that one near a corner goes on round it.
type Clumps struct {
	groups   map[cell][]group
	size     float64
	strength float64
	scale    float64 // makes the mean over all the areas 1
}

// A group is an ellipsoid round a place of a face.
type group struct {
	at    space.Vec
	axis  space.Vec // of length 1, along which distances count by stretch more or less
	large float64   // against the others
	long  float64   // what the squared distance along the axis counts more than across it
}

// A cell is a cube of the room, with sides as long as the groups are apart.
type cell struct{ x, y, z int }

// Shares of the distance from group to group.
const (
	closest = 0.8  // no two are closer
	core    = 0.15 // as dense as it gets within so far of the middle of a group
	air     = 0.45 // and as thin as between groups from so far on

	// tries is how many places are thrown for each group that may be expected; with so many there
	// is little room for a further one.
	tries = 20
	// MaxGroups is about how many groups a work may have.
	MaxGroups = 10_000
)

// NewClumps returns the groups that the seed gives over the areas, with about size mm from the middle
// of one to the middle of the next, measured straight through the room, and strength times as dense
// within them as between them. Over all the areas together the mean is 1.
//
// The middles are thrown at random, and kept where none is closer than 0.8 of the size (random
// sequential addition); close to the most that fit so, that is one to each square of that size.
func NewClumps(areas []Area, size, strength float64, seed uint64) Clumps {
	c := Clumps{map[cell][]group{}, size, strength, 1}
	rng := rand.New(rand.NewPCG(seed, tries))
	for _, a := range areas {
		c.throw(a, rng)
	}
	whole, sum := 0.0, 0.0
	for _, a := range areas {
		whole += a.Region.Area()
	}
	step := math.Max(size/8, math.Sqrt(whole/meanCells))
	for _, a := range areas {
		sum += Integral(c, a, step)
	}
	if sum > 0 {
		c.scale = whole / sum
	}
	return c
}

// meanCells is about how many places make a mean over all the areas.
const meanCells = 40_000

// Groups returns about how many groups of the size in mm the areas hold.
func Groups(areas []Area, size float64) float64 {
	sum := 0.0
	for _, a := range areas {
		sum += a.Region.Bounds().Width() * a.Region.Bounds().Height()
	}
	return sum / size / size
}

// throw puts groups on the area until there is little room for more.
func (c Clumps) throw(a Area, rng *rand.Rand) {
	index := plane.NewIndex(a.Region)
	box := a.Region.Bounds()
	n := math.Ceil(tries * box.Width() / c.size * box.Height() / c.size)
	for range int(n) {
		p := plane.Point{
			X: box.Min.X + float64(box.Width()*rng.Float64()), Y: box.Min.Y + float64(box.Height()*rng.Float64()),
		}.Snap(100)
		g := group{a.Frame.At(p), direction(rng), 0.75 + float64(0.5*rng.Float64()), 1.2*rng.Float64() - 0.5}
		if index.Inside(p) && !c.crowded(g.at) {
			own := c.cellOf(g.at)
			c.groups[own] = append(c.groups[own], g)
		}
	}
}

// direction returns a direction of length 1, any as likely: Marsaglia's way from two numbers in a
// disc (Choosing a point from the surface of a sphere, Annals of Mathematical Statistics 43 (1972) 645).
func direction(rng *rand.Rand) space.Vec {
	for {
		a, b := 2*rng.Float64()-1, 2*rng.Float64()-1
		s := float64(a*a) + float64(b*b)
		if s < 1 {
			r := 2 * math.Sqrt(1-s)
			return space.Vec{X: a * r, Y: b * r, Z: 1 - 2*s}
		}
	}
}

// crowded reports whether a group has its middle too close to the place for another.
func (c Clumps) crowded(at space.Vec) bool {
	least := closest * c.size
	found := false
	c.near(at, func(g group) {
		off := g.at.Sub(at)
		found = found || off.Dot(off) < float64(least*least)
	})
	return found
}

// near hands on every group with its middle within the size of the place, and some farther ones.
func (c Clumps) near(at space.Vec, visit func(group)) {
	own := c.cellOf(at)
	for x := own.x - 1; x <= own.x+1; x++ {
		for y := own.y - 1; y <= own.y+1; y++ {
			for z := own.z - 1; z <= own.z+1; z++ {
				for _, g := range c.groups[cell{x, y, z}] {
					visit(g)
				}
			}
		}
	}
}

func (c Clumps) cellOf(at space.Vec) cell {
	return cell{int(math.Floor(at.X / c.size)), int(math.Floor(at.Y / c.size)), int(math.Floor(at.Z / c.size))}
}

// At implements Field.
func (c Clumps) At(f space.Frame, p plane.Point) float64 {
	at := f.At(p)
	out := 1.0 // how far outside every group
	c.near(at, func(g group) {
		off := at.Sub(g.at)
		along := off.Dot(g.axis)
		far := math.Sqrt(off.Dot(off)+float64(g.long*along*along)) / g.large
		out *= 1 - ramp((air-far/c.size)/(air-core))
	})
	return c.scale * (1 + float64((c.strength-1)*(1-out)))
}

// Grain returns the least distance in mm over which the density changes by much.
func (c Clumps) Grain() float64 { return (air - core) * c.size }
