package nesting_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/peterstace/simplefeatures/geom"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/nesting"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

func stock(width, height, margin, gap float64, turn nesting.Turn) nesting.Stock {
	return nesting.Stock{Name: "card", Width: width, Height: height, Margin: margin, Gap: gap, Turn: turn}
}

// leaf is a leaf with a stalk, of sixty points, along +x.
func leaf(length, width float64) plane.Ring {
	var r plane.Ring
	for i := range 60 {
		t := 2 * math.Pi * float64(i) / 60
		s := math.Sin(t)
		r = append(r, plane.Point{X: length / 2 * math.Cos(t), Y: width / 2 * s * math.Abs(s) * (1 + 0.3*math.Cos(t))}.Snap(1000))
	}
	return r
}

// horn is a crescent: another piece can lie within its bay.
func horn(size float64) plane.Ring {
	return plane.Ring{{X: 0, Y: 0}, {X: size, Y: 0}, {X: size, Y: size * 0.2}, {X: size * 0.25, Y: size * 0.2},
		{X: size * 0.25, Y: size * 0.8}, {X: size, Y: size * 0.8}, {X: size, Y: size}, {X: 0, Y: size}}
}

func triangle(base, height float64) plane.Ring {
	return plane.Ring{{X: -base / 2, Y: -height / 2}, {X: base / 2, Y: -height / 2}, {X: 0, Y: height / 2}}
}

func nest(t testing.TB, s nesting.Stock, parts ...nesting.Part) nesting.Nest {
	n, err := nesting.Make(s, parts)
	require.NoError(t, err)
	hold(t, n)
	return n
}

func polygon(r plane.Ring) geom.Geometry {
	var xys []float64
	for _, p := range append(r, r[0]) {
		xys = append(xys, p.X, p.Y)
	}
	return geom.NewPolygonXY(xys).AsGeometry()
}

// hold holds a nest to everything that Make promises, with another library's distances.
func hold(t testing.TB, n nesting.Nest) {
	t.Helper()
	const rounding = 1e-5
	cut := make([]int, len(n.Parts))
	for _, s := range n.Sheets {
		require.Positive(t, s.Copies)
		var rings []plane.Ring
		var shapes []geom.Geometry
		for _, p := range s.Placements {
			r := n.Outline(p)
			b := r.Bounds()
			m := n.Stock.Margin - rounding
			require.True(t, b.Min.X >= m && b.Min.Y >= m && b.Max.X <= n.Stock.Width-m && b.Max.Y <= n.Stock.Height-m, "margin: %v", b)
			switch n.Stock.Turn {
			case nesting.Fixed:
				require.Zero(t, p.Turn)
			case nesting.Half:
				require.Zero(t, math.Mod(p.Turn, 180))
			case nesting.Quarter:
				require.Zero(t, math.Mod(p.Turn, 90))
			}
			rings, shapes = append(rings, r), append(shapes, polygon(r))
			cut[p.Part] += s.Copies
		}
		for i := range rings {
			for j := range i {
				if !rings[i].Bounds().Grow(n.Stock.Gap + 1).Overlaps(rings[j].Bounds()) {
					continue
				}
				d, ok := geom.Distance(shapes[i], shapes[j])
				require.True(t, ok)
				require.GreaterOrEqual(t, d, n.Stock.Gap-rounding, "pieces %d and %d", i, j)
				if n.Stock.Gap == 0 {
					both, err := geom.Intersection(shapes[i], shapes[j])
					require.NoError(t, err)
					require.Less(t, both.Area(), 1e-3)
				}
			}
		}
	}
	for i, p := range n.Parts {
		require.Equal(t, p.Count, cut[i], "count of %s", p.Code)
	}
	if n.Grid > 0 {
		require.LessOrEqual(t, n.Total(), n.Grid)
	}
}

// grids returns the sheets that each part alone takes in a plain grid of bounding boxes, added up.
func grids(s nesting.Stock, parts []nesting.Part) int {
	sum := 0
	for _, p := range parts {
		b := p.Outline.Bounds()
		per := func(w, h float64) int {
			return int((s.Width-2*s.Margin+s.Gap+1e-9)/(w+s.Gap)) * int((s.Height-2*s.Margin+s.Gap+1e-9)/(h+s.Gap))
		}
		most := per(b.Width(), b.Height())
		if s.Turn == nesting.Any || s.Turn == nesting.Quarter {
			most = max(most, per(b.Height(), b.Width()))
		}
		sum += (p.Count + most - 1) / most
	}
	return sum
}

// Hand-worked: rectangles in rows and columns.
func TestRectangles(t *testing.T) {
	for _, c := range []struct {
		w, h   float64
		s      nesting.Stock
		count  int
		sheets int
	}{
		// 700 - 20 is 680, (680+3)/(100+3) is 6.6; (480+3)/53 is 9.1: 54 a sheet.
		{100, 50, stock(700, 500, 10, 3, nesting.Fixed), 54, 1},
		{100, 50, stock(700, 500, 10, 3, nesting.Fixed), 55, 2},
		{100, 50, stock(700, 500, 10, 3, nesting.Half), 540, 10},
		// Without gap or margin 7 by 10 fill the sheet to the edge.
		{100, 50, stock(700, 500, 0, 0, nesting.Fixed), 70, 1},
		{100, 50, stock(700, 500, 0, 0, nesting.Any), 71, 2},
		// Seven lie along, 400 wide, and 300 are left beside them for five upright: no grid has these twelve.
		{400, 60, stock(700, 420, 0, 0, nesting.Fixed), 7, 1},
		{400, 60, stock(700, 420, 0, 0, nesting.Quarter), 12, 1},
		{400, 60, stock(700, 420, 0, 0, nesting.Quarter), 13, 2},
		// In inches, on no half millimetre: 2.5 by 1.25 in, a 3/16 in gap: 20/2.6875 is 7.4, 16/1.4375 11.1.
		{63.5, 31.75, stock(20*25.4-4.7625, 16*25.4-4.7625, 0, 4.7625, nesting.Fixed), 77, 1},
	} {
		t.Run(fmt.Sprint(c.w, "x", c.h, " ", c.count, " ", c.s.Turn), func(t *testing.T) {
			n := nest(t, c.s, nesting.Part{Code: "A", Outline: plane.Rectangle(plane.Point{X: -c.w / 2, Y: -c.h / 2}, c.w, c.h), Count: c.count})
			assert.Equal(t, c.sheets, n.Total())
			used := float64(c.count) * c.w * c.h / (float64(c.sheets) * c.s.Width * c.s.Height)
			assert.InDelta(t, 1-used, n.Offcut(), 1e-9)
		})
	}
}

// Circles lie in staggered rows. With 20 mm and no gap on 200 by 200: rows 17.32 apart, 10 and 9 in turn,
// (200-20)/17.32 is 10.4, so eleven rows with 6 of 10 and 5 of 9: 105, against 100 in a grid.
func TestCirclesStagger(t *testing.T) {
	disc := plane.Ellipse(plane.Point{}, 10, 10, 96)
	n := nest(t, stock(200, 200, 0, 0, nesting.Fixed), nesting.Part{Code: "A", Outline: disc, Count: 105})
	assert.Equal(t, 1, n.Total())
	assert.Equal(t, 2, n.Grid)
	n = nest(t, stock(200, 200, 0, 0, nesting.Fixed), nesting.Part{Code: "A", Outline: disc, Count: 106})
	assert.Equal(t, 2, n.Total())
}

// Triangles that may be turned about lie head to tail: on a strip 60 high, n of them take (n+1) half bases.
func TestTrianglesHeadToTail(t *testing.T) {
	part := nesting.Part{Code: "A", Outline: triangle(60, 60), Count: 16}
	assert.Equal(t, 1, nest(t, stock(520, 61, 0, 0, nesting.Half), part).Total())
	assert.Equal(t, 2, nest(t, stock(520, 61, 0, 0, nesting.Fixed), part).Total())
}

// A small piece goes into the bay of a large one, where bounding boxes would need a second sheet.
func TestBays(t *testing.T) {
	n := nest(t, stock(100, 100, 0, 2, nesting.Fixed),
		nesting.Part{Code: "B", Outline: plane.Rectangle(plane.Point{}, 50, 40), Count: 1},
		nesting.Part{Code: "A", Outline: horn(100), Count: 1})
	assert.Equal(t, 1, n.Total())
	assert.Equal(t, 2, n.Grid)
	// It could come in from no side: the bay has only the raster's lowest spot and no path is asked for.
	ring := n.Outline(n.Sheets[0].Placements[1])
	assert.GreaterOrEqual(t, ring.Bounds().Min.X, 27.0)
}

// Whatever the pieces are, the nest keeps its promises and is never worse than the grids.
func TestAnyPieces(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	for range 12 {
		var parts []nesting.Part
		for i := range 1 + rng.IntN(3) {
			var r plane.Ring
			for k := range 9 {
				far := 8 + 30*rng.Float64()
				a := 2 * math.Pi * float64(k) / 9
				r = append(r, plane.Point{X: far * math.Cos(a), Y: 0.5 * far * math.Sin(a)}.Snap(1000))
			}
			parts = append(parts, nesting.Part{Code: string(rune('A' + i)), Outline: r, Count: rng.IntN(40)})
		}
		s := stock(200+100*rng.Float64(), 150+100*rng.Float64(), 10*rng.Float64(), 4*rng.Float64(), nesting.Turns()[rng.IntN(4)])
		n := nest(t, s, parts...)
		assert.LessOrEqual(t, n.Total(), grids(s, parts))
		again, err := nesting.Make(s, parts)
		require.NoError(t, err)
		assert.Equal(t, n, again)
	}
}

// Sheets that are filled alike are told once.
func TestCopies(t *testing.T) {
	n := nest(t, stock(700, 500, 10, 3, nesting.Half), nesting.Part{Code: "A", Outline: leaf(80, 30), Count: 2000})
	assert.LessOrEqual(t, len(n.Sheets), 2)
	assert.Greater(t, n.Sheets[0].Copies, 3)
	assert.Less(t, n.Total(), n.Grid)
}

func TestNothingToCut(t *testing.T) {
	n := nest(t, stock(700, 500, 10, 3, nesting.Any), nesting.Part{Code: "A", Outline: leaf(80, 30)})
	assert.Zero(t, n.Total())
	assert.Zero(t, n.Offcut())
	assert.Empty(t, nest(t, stock(700, 500, 10, 3, nesting.Any)).Sheets)
}

func TestFaultsOfStock(t *testing.T) {
	sound := stock(700, 500, 10, 3, nesting.Half)
	part := nesting.Part{Code: "A", Outline: leaf(80, 30), Count: 2}
	for _, c := range []struct {
		spoil func(*nesting.Stock, *nesting.Part)
		want  string
	}{
		{func(s *nesting.Stock, _ *nesting.Part) { s.Width = math.NaN() }, "sheets[0].size: ? by 500 mm is no size of a sheet; give each side from 10 mm to 10000 mm"},
		{func(s *nesting.Stock, _ *nesting.Part) { s.Gap = -1 }, "sheets[0].gap: -1 mm is not a gap between cuts; give a length from 0 to 500 mm"},
		{func(s *nesting.Stock, _ *nesting.Part) { s.Margin = 249 }, "sheets[0].margin: margins of 249 mm leave nothing of the sheet; make them narrower"},
		{func(s *nesting.Stock, _ *nesting.Part) { s.Turn = "maybe" }, `sheets[0].turn: "maybe" is no rule for turning; write any, quarter, half or none`},
		{func(s *nesting.Stock, _ *nesting.Part) { s.Height = 45 }, "sheets[0].size: within its margins, 680 mm by 25 mm, the sheet is too small for A (80 mm by 30.6 mm); give larger sheets, or cut those from others"},
		{func(_ *nesting.Stock, p *nesting.Part) { p.Count = -1 }, `sheets[0].cuts: "A" with 60 corners, -1 times, cannot be cut; cut pieces of 3 to 4096 corners, at most 200000 times`},
	} {
		s, p := sound, part
		c.spoil(&s, &p)
		problems := nesting.Check("sheets[0]", s, []nesting.Part{p}, measure.Millimetre)
		if assert.Len(t, problems, 1, c.want) {
			assert.Equal(t, c.want, problems[0].Error())
		}
		_, err := nesting.Make(s, []nesting.Part{p})
		assert.Error(t, err)
	}
}

func BenchmarkMake(b *testing.B) {
	parts := []nesting.Part{
		{Code: "A", Outline: leaf(80, 30), Count: 250},
		{Code: "B", Outline: leaf(60, 25), Count: 150},
		{Code: "C", Outline: horn(40), Count: 100},
	}
	for _, turn := range nesting.Turns() {
		b.Run(string(turn), func(b *testing.B) {
			for range b.N {
				n, err := nesting.Make(stock(700, 500, 10, 3, turn), parts)
				require.NoError(b, err)
				b.ReportMetric(float64(n.Total()), "sheets")
				b.ReportMetric(float64(n.Grid), "grid")
				b.ReportMetric(100*n.Offcut(), "%offcut")
			}
		})
	}
}
