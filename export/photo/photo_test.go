package photo_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/photo"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

const wide, high, focal = 1000, 700, 800.0

// A pinhole is a camera that is known: what the package finds is held to it.
type pinhole struct{ eye, right, down, ahead space.Vec }

func aslant() pinhole {
	unit := func(v space.Vec) space.Vec { return v.Scale(1 / v.Len()) }
	p := pinhole{eye: space.Vec{X: 700, Y: 1750, Z: 3600}}
	p.ahead = unit(space.Vec{X: 2300, Y: 1150}.Sub(p.eye))
	p.right = unit(p.ahead.Cross(space.Vec{Y: 1}))
	p.down = p.ahead.Cross(p.right)
	return p
}

func (p pinhole) at(v space.Vec) plane.Point {
	d := v.Sub(p.eye)
	z := d.Dot(p.ahead)
	return plane.Point{X: wide/2 + focal*d.Dot(p.right)/z, Y: high/2 + focal*d.Dot(p.down)/z}
}

// way returns the direction of the ray through a pixel.
func (p pinhole) way(q plane.Point) space.Vec {
	return p.ahead.Add(p.right.Scale((q.X - wide/2) / focal)).Add(p.down.Scale((q.Y - high/2) / focal))
}

// bench is a box before the wall, and window a hole in it.
var (
	benchLow, benchHigh = space.Vec{X: 1700, Y: 0, Z: 0}, space.Vec{X: 2700, Y: 850, Z: 550}
	window              = plane.Rect{Min: plane.Point{X: 2900, Y: 900}, Max: plane.Point{X: 3700, Y: 2000}}
)

// box returns where the ray enters the bench, math.Inf(1) where it misses.
func box(eye, way space.Vec) float64 {
	from, to := 0.0, math.Inf(1)
	for _, a := range [][4]float64{{eye.X, way.X, benchLow.X, benchHigh.X}, {eye.Y, way.Y, benchLow.Y, benchHigh.Y}, {eye.Z, way.Z, benchLow.Z, benchHigh.Z}} {
		t1, t2 := (a[2]-a[0])/a[1], (a[3]-a[0])/a[1]
		from, to = math.Max(from, math.Min(t1, t2)), math.Min(to, math.Max(t1, t2))
	}
	if from > to {
		return math.Inf(1)
	}
	return from
}

// taken renders the photo of the hall, a ray for every pixel.
func taken() *image.RGBA {
	p := aslant()
	img := image.NewRGBA(image.Rect(0, 0, wide, high))
	for y := range high {
		for x := range wide {
			way := p.way(plane.Point{X: float64(x) + 0.5, Y: float64(y) + 0.5})
			c := color.RGBA{200, 205, 210, 255}
			onWall := p.eye.Add(way.Scale(-p.eye.Z / way.Z))
			floor := -p.eye.Y / way.Y
			switch t := box(p.eye, way); {
			case !math.IsInf(t, 1):
				hit := p.eye.Add(way.Scale(t))
				c = color.RGBA{128, 92, 62, 255}
				if hit.Y > benchHigh.Y-1 {
					c = color.RGBA{170, 130, 90, 255}
				} else if hit.Z < benchHigh.Z-1 {
					c = color.RGBA{95, 68, 48, 255}
				}
			case way.Y < 0 && floor < -p.eye.Z/way.Z:
				c = color.RGBA{120, 116, 110, 255}
			case onWall.X < 0 || onWall.X > 4200 || onWall.Y > 2600:
				c = color.RGBA{90, 94, 100, 255}
			case window.Contains(plane.Point{X: onWall.X, Y: onWall.Y}):
				c = color.RGBA{70, 100, 140, 255}
			}
			img.SetRGBA(x, y, c)
		}
	}
	return img
}

func encoded(t testing.TB, img image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, img, &jpeg.Options{Quality: 85}))
	return out.Bytes()
}

// points are corners of the wall and of the window.
func points() []photo.Point {
	var out []photo.Point
	for _, p := range []plane.Point{{X: 200, Y: 200}, window.Min, window.Max, {X: 300, Y: 2300}, {X: 2900, Y: 2000}} {
		out = append(out, photo.Point{At: p, Pixel: aslant().at(space.Vec{X: p.X, Y: p.Y})})
	}
	return out
}

func hall(t testing.TB) holemap.Work {
	t.Helper()
	site, err := wall.Survey(wall.Room{Walls: []wall.Wall{{Name: "Hall wall", Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 4200, 2600), Obstructions: []wall.Obstruction{
		{Kind: wall.Fixture, Name: "bench", Depth: benchHigh.Z, Shape: plane.Rectangle(plane.Point{X: benchLow.X}, 1000, benchHigh.Y), Use: []wall.Side{wall.Front, wall.Top}},
		{Kind: wall.Window, Name: "window", Shape: plane.Rectangle(window.Min, window.Width(), window.Height())},
	}}}})
	require.NoError(t, err)
	w := holemap.Work{Title: "Leaves in the hall", For: "The tenants", Site: site, Kinds: []scatter.Kind{
		{Name: "Leaf", Code: "A", Outline: plane.Ellipse(plane.Point{}, 75, 28, 32), StandOff: 30, Colour: scatter.Colour{R: 190, G: 90, B: 40}},
		{Name: "Twig", Code: "B", Outline: plane.Rectangle(plane.Point{X: -60, Y: -15}, 120, 30), StandOff: 60, Colour: scatter.Colour{R: 40, G: 70, B: 60}},
	}}
	r := rand.New(rand.NewPCG(1, 2))
	for i, f := range site.Faces {
		b := f.Outline.Bounds().Grow(-100)
		for n := 0; n < 160 && (f.IsWall() || n < 12); n++ {
			at := plane.Point{X: b.Min.X + b.Width()*r.Float64(), Y: b.Min.Y + b.Height()*r.Float64()}.Snap(100)
			if f.Outline.Distance(at) > 80 && (!f.IsWall() || !window.Grow(80).Contains(at)) {
				w.Layout.Pieces = append(w.Layout.Pieces, scatter.Piece{ID: len(w.Layout.Pieces) + 1, Kind: n % 2, Face: i, At: at, Heading: 70})
			}
		}
	}
	return w
}

func view(t testing.TB, points []photo.Point) photo.View {
	t.Helper()
	p, err := photo.Decode(encoded(t, taken()))
	require.NoError(t, err)
	v, faults := photo.New(0, "hall.jpg", p, points)
	require.Empty(t, faults)
	return v
}

// Points of the OpenCV tutorial Geometric Transformations; the matrix is that of a public test of a
// binding of it, and an exact rational solution agrees.
func TestHomographyOfTheTutorial(t *testing.T) {
	var ps []photo.Point
	from, to := [][2]float64{{56, 65}, {368, 52}, {28, 387}, {389, 390}}, [][2]float64{{0, 0}, {300, 0}, {0, 300}, {300, 300}}
	for i := range from {
		ps = append(ps, photo.Point{At: plane.Point{X: from[i][0], Y: from[i][1]}, Pixel: plane.Point{X: to[i][0], Y: to[i][1]}})
	}
	h := photo.Fit(ps)
	want := photo.Homography{{1.0558737613, 0.0918151097, -65.0969127617}, {0.0469010049, 1.1256241185, -75.7920239791}, {0.000183251448, 0.000513337001, 1}}
	for i := range 3 {
		for j := range 3 {
			assert.InDelta(t, want[i][j], h[i][j]/h[2][2], 1e-9)
		}
	}
	got := h.At(plane.Point{X: 200, Y: 200})
	assert.InDelta(t, 144.332755, got.X, 1e-6)
	assert.InDelta(t, 139.305307, got.Y, 1e-6)
}

// The closed form of Heckbert (1989) for the unit square: a 4, b 2, e 4, h 1 and the rest 0, by hand;
// the middle goes to (2, 4/3).
func TestHomographyOfASquare(t *testing.T) {
	var ps []photo.Point
	to := []plane.Point{{}, {X: 4}, {X: 3, Y: 2}, {X: 1, Y: 2}}
	for i, p := range plane.Rectangle(plane.Point{}, 1, 1) {
		ps = append(ps, photo.Point{At: p, Pixel: to[i]})
	}
	h := photo.Fit(ps)
	want := photo.Homography{{4, 2, 0}, {0, 4, 0}, {0, 1, 1}}
	for i := range 3 {
		for j := range 3 {
			assert.InDelta(t, want[i][j], h[i][j]/h[2][2], 1e-12)
		}
	}
	assert.InDelta(t, 4.0/3, h.At(plane.Point{X: 0.5, Y: 0.5}).Y, 1e-12)
}

func TestTheCameraIsFound(t *testing.T) {
	for _, n := range []int{4, 5} {
		c, known := view(t, points()[:n]).Camera()
		require.True(t, known)
		assert.InDelta(t, focal, c.Focal, 1e-6)
		assert.InDelta(t, 0, c.Centre.Sub(aslant().eye).Len(), 1e-4)
	}
	// Square on, the length of the lens shows in nothing.
	var ps []photo.Point
	for _, p := range plane.Rectangle(plane.Point{X: 100, Y: 100}, 3000, 2000) {
		ps = append(ps, photo.Point{At: p, Pixel: plane.Point{X: p.X / 5, Y: 600 - p.Y/5}})
	}
	v := view(t, ps)
	assert.False(t, v.Known)
	s, err := v.Scene(hall(t))
	require.NoError(t, err)
	assert.NotZero(t, s.Left)
}

// Every corner that is drawn of a whole piece is where the known camera sees it, and a ray through any
// place of a piece meets the bench first exactly where the piece is cut away.
func TestPiecesAreWhereTheCameraSeesThem(t *testing.T) {
	w, cam := hall(t), aslant()
	s, err := view(t, points()).Scene(w)
	require.NoError(t, err)
	shown := map[int]photo.Shape{}
	for _, shape := range s.Shapes {
		shown[shape.ID] = shape
	}
	whole, cutAway, onBench := 0, 0, 0
	for _, p := range w.Layout.Pieces {
		f, off := w.Site.Faces[p.Face], w.Kinds[p.Kind].StandOff
		front := w.Site.Faces[0].Frame
		if _, rise := f.Frame.Local(front.Lift(plane.Point{X: cam.eye.X, Y: cam.eye.Y}, cam.eye.Z)); rise < off {
			assert.NotContains(t, shown, p.ID, "a piece seen from behind is left out")
			continue
		}
		local := func(q plane.Point) space.Vec {
			at, z := front.Local(f.Frame.Lift(q, off))
			return space.Vec{X: at.X, Y: at.Y, Z: z}
		}
		seen := func(q plane.Point) bool {
			in := false
			for _, r := range shown[p.ID].Rings {
				in = in != r.Contains(q)
			}
			return in
		}
		ring := p.Outline(w.Kinds)
		for _, q := range append(ring.Map(func(q plane.Point) plane.Point { return p.At.Lerp(q, 0.9) }), p.At) {
			v := local(q)
			hidden := box(cam.eye, v.Sub(cam.eye)) < 1-1e-6
			if near := box(cam.eye, v.Sub(cam.eye).Add(space.Vec{X: 1, Y: 1})) < 1; near != hidden {
				continue
			}
			assert.Equal(t, !hidden, seen(cam.at(v)), "piece %d at %v", p.ID, v)
			if hidden {
				cutAway++
			}
		}
		if shape := shown[p.ID]; len(shape.Rings) == 1 && len(shape.Rings[0]) == len(ring) {
			whole++
			for _, q := range ring {
				at, nearest := cam.at(local(q)), math.Inf(1)
				for _, corner := range shape.Rings[0] {
					nearest = math.Min(nearest, at.Distance(corner))
				}
				assert.Less(t, nearest, 0.01, "pixels")
			}
			if !f.IsWall() {
				onBench++
			}
		}
	}
	assert.Greater(t, whole, 50)
	assert.Greater(t, cutAway, 10)
	assert.Positive(t, onBench)
}

func TestFaultsOfPoints(t *testing.T) {
	p, err := photo.Decode(encoded(t, image.NewRGBA(image.Rect(0, 0, wide, high))))
	require.NoError(t, err)
	for name, tt := range map[string]struct {
		change func([]photo.Point) []photo.Point
		want   string
	}{
		"few":     {func(p []photo.Point) []photo.Point { return p[:3] }, "there are 3 points"},
		"crossed": {func(p []photo.Point) []photo.Point { p[0].Pixel, p[1].Pixel = p[1].Pixel, p[0].Pixel; return p }, "the points are in another order in the photo than on the wall"},
		"twice":   {func(p []photo.Point) []photo.Point { p[1] = p[0]; return p }, "is the same as point 1"},
		"on a line": {func(p []photo.Point) []photo.Point {
			p[3] = photo.Point{Pixel: p[0].Pixel.Lerp(p[1].Pixel, 0.5), At: p[0].At.Lerp(p[1].At, 0.5)}
			return p
		}, "three of the points lie on a line, or nearly so"},
		"outside": {func(p []photo.Point) []photo.Point { p[2].Pixel.X = 1001; return p }, "is outside the photo, which has 1000 x 700 pixels as a viewer shows it"},
		"mirrored": {func(p []photo.Point) []photo.Point {
			for i := range p {
				p[i].Pixel.X = wide - p[i].Pixel.X
			}
			return p
		}, "the points show the wall mirrored"},
	} {
		_, faults := photo.New(0, "a.jpg", p, tt.change(points()[:4]))
		if assert.Len(t, faults, 1, name) {
			assert.Contains(t, faults[0].Wrong, tt.want)
		}
	}
	ps := points()
	ps[4].Pixel.X += 90
	_, faults := photo.New(0, "a.jpg", p, ps)
	if assert.Len(t, faults, 1) {
		assert.Contains(t, faults[0].Wrong, "pixels from where the other points have it")
	}
}

// The same bytes come twice, and other programs take the page.
func TestPage(t *testing.T) {
	w := hall(t)
	print := func() []byte {
		c := draw.NewPDF(draw.About{Title: w.Title}, time.Time{})
		require.NoError(t, photo.Page(c, w, view(t, points()), draw.Size{Width: 297, Height: 210}))
		var out bytes.Buffer
		_, err := c.WriteTo(&out)
		require.NoError(t, err)
		return out.Bytes()
	}
	one := print()
	assert.True(t, bytes.Equal(one, print()))
	var out bytes.Buffer
	s := draw.NewSVG(&out, draw.About{Title: w.Title})
	require.NoError(t, photo.Page(s, w, view(t, points()), draw.Size{Width: 297, Height: 210}))
	require.NoError(t, s.Close())
	dir := t.TempDir()
	if keep := os.Getenv("WALLSHOAL_KEEP"); keep != "" {
		dir = keep
	}
	pdf, svg := filepath.Join(dir, "photo.pdf"), filepath.Join(dir, "photo.svg")
	require.NoError(t, os.WriteFile(pdf, one, 0o600))
	require.NoError(t, os.WriteFile(svg, out.Bytes(), 0o600))
	for _, judge := range [][]string{{"qpdf", "--check", pdf}, {"mutool", "info", pdf}, {"xmllint", "--noout", svg}} {
		if _, err := exec.LookPath(judge[0]); err != nil {
			require.NotEqual(t, "true", os.Getenv("CI"), judge[0])
			continue
		}
		said, err := exec.Command(judge[0], judge[1:]...).CombinedOutput()
		require.NoError(t, err, fmt.Sprintf("%s: %s", judge[0], said))
	}
}
