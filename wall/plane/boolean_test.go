package plane

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/require"
)

// judge returns the area in mm² that an independent library finds for the union of rs, and an
// error where it takes one of them for unsound.
func judge(rs ...Region) (float64, error) {
	parts := make([]geom.Geometry, len(rs))
	for i, r := range rs {
		parts[i] = r.geometry()
		if err := sound(parts[i]); err != nil {
			return 0, err
		}
	}
	u, err := geom.UnionMany(parts)
	return u.Area(), err
}

// sound returns what is wrong with g; the library panics over some parts that overlap.
func sound(g geom.Geometry) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("%v", p)
		}
	}()
	return g.Validate()
}

// agree holds union, difference and intersection of a and b to one another and to the judge.
// Every crossing is moved by at most a step of the lattice, so areas differ by far less than a
// step's width round all the rims.
func agree(t *testing.T, a, b Region) {
	t.Helper()
	union, err := Union(a, b)
	require.NoError(t, err)
	inter, err := a.Intersection(b)
	require.NoError(t, err)
	diff, err := a.Difference(b)
	require.NoError(t, err)
	other, err := b.Difference(a)
	require.NoError(t, err)

	slack := 1e-6
	for _, r := range []Region{a, b} {
		for _, ring := range r.Rings() {
			slack += 2 * ring.Perimeter() / stepsPerMM
		}
	}
	require.InDelta(t, a.Area()+b.Area(), union.Area()+inter.Area(), slack, "|A| + |B| = |A ∪ B| + |A ∩ B|")
	require.InDelta(t, a.Area(), diff.Area()+inter.Area(), slack, "|A| = |A \\ B| + |A ∩ B|")
	require.InDelta(t, union.Area(), diff.Area()+other.Area()+inter.Area(), slack, "|A ∪ B| in three parts")
	want, err := judge(a, b)
	require.NoError(t, err)
	require.InDelta(t, want, union.Area(), slack, "another library's union")

	again, err := Union(union)
	require.NoError(t, err)
	require.Equal(t, union, again, "what is settled stays as it is")
	swapped, err := Union(b, a)
	require.NoError(t, err)
	require.Equal(t, union, swapped, "order does not matter")
	for name, r := range map[string]Region{"union": union, "intersection": inter, "difference": diff} {
		require.NoError(t, sound(r.geometry()), name)
	}
}

// Shapes set out on one turned grid share edges and parts of edges in every way there is, and
// once turned the shared edges are never quite the same again.
func TestBooleansOnTurnedGrids(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 2))
	for range 120 {
		angle := rng.Float64() * 7
		shape := func() Region {
			at := Point{float64(rng.IntN(8) * 50), float64(rng.IntN(8) * 50)}
			switch rng.IntN(3) {
			case 0:
				return RegionOf(Rectangle(at, 50, float64(50*(1+rng.IntN(3)))).Place(Point{}, angle))
			case 1:
				return RegionOf(Ellipse(at, 50, 30, 48).Place(Point{}, angle))
			}
			grown, err := RegionOf(Rectangle(at, 50, 50).Place(Point{}, angle)).Grow(float64(1+rng.IntN(4)) * 10)
			require.NoError(t, err)
			return grown
		}
		some := func() Region {
			u, err := Union(shape(), shape(), shape(), shape(), shape())
			require.NoError(t, err)
			return u
		}
		agree(t, some(), some())
	}
}

// The two diagonals of one cell of the lattice once took turns in giving way to one another,
// without end.
func TestDiagonalsOfOneCellSettle(t *testing.T) {
	const step = 1.0 / stepsPerMM
	a := Ring{{0, step}, {step, 0}, {5, -2}, {6, 6}, {-2, 5}}
	b := Ring{{0, 0}, {step, step}, {2, 5}, {-4, 4}, {-5, -2}}
	agree(t, RegionOf(a), RegionOf(b))
}

// A hole that touches the outer ring in the middle of one of its own sides once went missing.
func TestAHoleThatTouchesInTheMiddleOfItsSide(t *testing.T) {
	for quarter := range 4 {
		turned := func(r Ring) Region {
			return RegionOf(r.Place(Point{}, float64(quarter)*math.Pi/2))
		}
		notch, hole := Ring{{-10, -50}, {10, -50}, {0, -20}}, Ring{{-30, -20}, {30, -20}, {0, 0}}
		r, err := turned(Rectangle(Point{-50, -50}, 100, 100)).Difference(turned(notch), turned(hole))
		require.NoError(t, err)
		require.InDelta(t, 100*100-300-600, r.Area(), 1e-6, "turned by %d quarters", quarter)
		require.NoError(t, sound(r.geometry()))
	}
}

// Narrow gaps and thin parts come out as they are down to two steps of the lattice, and are
// dropped below.
func TestThinParts(t *testing.T) {
	for _, tt := range []struct {
		gap  float64
		want int // parts
	}{{1, 2}, {0.01, 2}, {0.0003, 2}, {0.0001, 2}, {0.00004, 1}, {0, 1}} {
		u, err := Union(box(0, 0, 100, 100), box(100+tt.gap, 0, 100, 100))
		require.NoError(t, err)
		require.Len(t, u.Polygons(), tt.want, "a gap of %v mm", tt.gap)

		left, err := box(0, 0, 100, 100).Difference(box(0, 0, 100-tt.gap, 100))
		require.NoError(t, err)
		require.Equal(t, tt.gap < 0.0002, left.Empty(), "a strip of %v mm", tt.gap)
	}
}

func TestGrowAgainstSteiner(t *testing.T) {
	for _, n := range []int{3, 4, 5, 12} {
		ring := regular(Point{500, 500}, 300, n)
		for _, d := range []float64{0.5, 10, 152.4, 1000} {
			grown, err := RegionOf(ring).Grow(d)
			require.NoError(t, err)
			// Convex area + perimeter·d + π d² (Steiner); the polygon drawn for the round corners
			// is smaller by less than a thousandth of the disc.
			want := ring.Area() + ring.Perimeter()*d + math.Pi*d*d
			step := grown.Polygons()[0].Outer.Perimeter() / stepsPerMM
			require.LessOrEqual(t, grown.Area(), want+step)
			require.InDelta(t, want, grown.Area(), 0.001*math.Pi*d*d+step, "%d corners grown by %v", n, d)

			back, err := grown.Grow(-d)
			require.NoError(t, err)
			require.InDelta(t, ring.Area(), back.Area(), 0.002*ring.Perimeter()*d, "and shrunk again")
		}
	}
}

// Growing never reaches farther than asked, and misses no more than the sides of a round
// corner do.
func TestGrowAgainstDistances(t *testing.T) {
	for name, r := range regions(t) {
		rng := rand.New(rand.NewPCG(8, 8)) // of its own: maps have no order
		for _, d := range []float64{12, -7} {
			grown, err := r.Grow(d)
			require.NoError(t, err)
			// Between two corners on an arc a side is nearer to its centre by the sagitta; and corners nearer
			// to each other than a thousandth of the distance become one.
			short := math.Abs(d) * (1 - math.Cos(math.Pi/4/quadSegments) + 0.001)
			b := r.Bounds().Grow(20)
			for range 2000 {
				p := Point{b.Min.X + rng.Float64()*b.Width(), b.Min.Y + rng.Float64()*b.Height()}
				if depth := r.Distance(p) + d; math.Abs(depth) > short {
					require.Equal(t, depth > 0, grown.Contains(p), "%s by %v: %v is %v deep", name, d, p, depth)
				}
			}
		}
	}
}

func FuzzBooleans(f *testing.F) {
	f.Add([]byte{0, 0, 9, 0, 9, 9, 0, 9}, []byte{3, 3, 12, 3, 12, 12, 3, 12}, 0.0)
	f.Add([]byte{0, 0, 9, 0, 9, 9}, []byte{0, 0, 9, 9, 0, 9}, 0.7)
	f.Add([]byte{0, 0, 8, 0, 8, 8, 4, 8, 4, 4, 0, 4}, []byte{4, 4, 8, 4, 8, 8, 4, 8}, 2.5)
	f.Fuzz(func(t *testing.T, first, second []byte, angle float64) {
		if !(math.Abs(angle) < 7) {
			return
		}
		a, b := ringFrom(first, angle), ringFrom(second, angle)
		if a == nil || b == nil {
			return
		}
		agree(t, RegionOf(a), RegionOf(b))
	})
}

// ringFrom reads corners on a coarse grid, turned by angle; nil where they make no simple ring.
func ringFrom(bytes []byte, angle float64) Ring {
	if len(bytes) > 40 {
		return nil
	}
	var r Ring
	for i := 0; i+1 < len(bytes); i += 2 {
		r = append(r, Point{float64(bytes[i] % 16), float64(bytes[i+1] % 16)}.Scale(10).Rotate(angle))
	}
	if _, _, crosses := r.Crossing(); crosses || RegionOf(r).Empty() || sound(RegionOf(r).geometry()) != nil {
		return nil
	}
	return r
}
