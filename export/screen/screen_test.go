package screen_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/screen"
	"wallshoal/export/stand"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/scatter/density"
	"wallshoal/scatter/flow"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// shown records a picture for a screen.
func shown(t testing.TB, draws func(draw.Canvas) error) *draw.Record {
	t.Helper()
	r := draw.NewRecord()
	require.NoError(t, draws(r))
	require.NoError(t, r.Close())
	require.Len(t, r.Pages, 1)
	return r
}

// onScreen returns what carries places of a face to its picture.
func onScreen(w holemap.Work, face int) func(plane.Point) plane.Point {
	f := screen.Frame(w, face)
	return func(p plane.Point) plane.Point { return plane.Point{X: p.X - f.Min.X, Y: f.Max.Y - p.Y} }
}

// in reports whether a mark stands in a group whose name begins so.
func in(m draw.Mark, group string) bool {
	return slices.ContainsFunc(m.Groups, func(g string) bool { return strings.HasPrefix(g, group) })
}

// grows is a density that grows to the right, and turning a flow that turns on the way there.
type grows struct{}

func (grows) At(_ space.Frame, p plane.Point) float64 { return 0.2 + p.X/2000 }

type turning struct{}

func (turning) At(_ space.Frame, p plane.Point) plane.Point {
	sin, cos := math.Sincos(p.X / 900)
	return plane.Point{X: cos, Y: sin}
}

// screenWith is what all layers need of a work.
func screenWith(t testing.TB, w holemap.Work) screen.With {
	t.Helper()
	stands, err := stand.Plan(w, stand.UsualReach())
	require.NoError(t, err)
	return screen.With{
		Cut: worktest.CutUp(t, w, worktest.Print("A4")), Stands: stands,
		Composition: scatter.Composition{Density: density.Scheme{Field: grows{}}, Flow: flow.Field{turning{}}},
	}
}

func TestEveryPieceIsOnceInItsPlaceOnTheScreen(t *testing.T) {
	w := worktest.Ferry(t)
	for face := range w.Site.Faces {
		for _, look := range screen.Looks() {
			record := shown(t, func(c draw.Canvas) error { return screen.Face(c, w, face, look) })
			at := onScreen(w, face)
			drawn := map[string][]plane.Ring{}
			for _, m := range record.Marks {
				for _, g := range m.Groups {
					if strings.HasPrefix(g, "piece ") && m.Kind == "polygon" {
						drawn[g] = append(drawn[g], m.Rings...)
					}
				}
			}
			pieces := 0
			for _, p := range w.Layout.Pieces {
				name := fmt.Sprintf("piece %d, kind %s", p.ID, w.Kinds[p.Kind].Code)
				if p.Face != face {
					continue
				}
				pieces++
				require.Len(t, drawn[name], 1, "%s, %s", look, name)
				want, got := p.Outline(w.Kinds).Map(at).Bounds(), drawn[name][0].Bounds()
				for _, d := range []float64{want.Min.Distance(got.Min), want.Max.Distance(got.Max)} {
					assert.Less(t, d, 1.0, "%s, %s", look, name)
				}
			}
			assert.Len(t, drawn, pieces)
		}
	}
}

func TestEveryHoleHasItsCrossOnTheScreen(t *testing.T) {
	w := worktest.Ferry(t)
	record := shown(t, func(c draw.Canvas) error { return screen.Face(c, w, 0, screen.LookHoles) })
	at := onScreen(w, 0)
	arms := map[string][]draw.Mark{}
	for _, m := range record.Marks {
		if m.Kind == "line" && in(m, "hole ") {
			arms[m.Groups[len(m.Groups)-1]] = append(arms[m.Groups[len(m.Groups)-1]], m)
		}
	}
	holes := 0
	for _, h := range w.Map.Holes {
		if h.Face != 0 {
			continue
		}
		holes++
		lines := arms[fmt.Sprintf("hole %d", h.Number)]
		require.Len(t, lines, 2)
		for _, l := range lines {
			assert.Less(t, l.Points[0].Lerp(l.Points[1], 0.5).Distance(at(h.At)), 0.01)
		}
	}
	assert.Len(t, arms, holes)
}

// Of a work that is not crowded every code and every number is there, none over another.
func TestCodesAndNumbersStandClearOnTheScreen(t *testing.T) {
	w := worktest.Ferry(t)
	record := shown(t, func(c draw.Canvas) error { return screen.Face(c, w, 0, screen.LookHoles) })
	var boxes []plane.Rect
	counts := map[string]int{}
	for _, m := range record.Marks {
		if m.Kind != "text" {
			continue
		}
		counts[m.Groups[len(m.Groups)-1]]++
		box := m.Text.Box(0).Bounds().Grow(-0.5)
		for _, other := range boxes {
			require.False(t, box.Overlaps(other), "%q lies over another", m.Text.Say)
		}
		boxes = append(boxes, box)
	}
	pieces, holes := 0, 0
	for _, p := range w.Layout.Pieces {
		if p.Face == 0 {
			pieces++
			holes += len(w.Kinds[p.Kind].Holes)
		}
	}
	assert.Equal(t, pieces, counts["codes"])
	assert.Equal(t, holes, counts["numbers"])
}

// within checks that every mark lies on the page, or is cut to it, and every word in any case.
func within(t *testing.T, r *draw.Record, what string) {
	t.Helper()
	page := plane.Rect{Max: plane.Point{X: r.Pages[0].Width, Y: r.Pages[0].Height}}.Grow(0.01)
	clips := 0
	for _, m := range r.Marks {
		var places []plane.Point
		switch m.Kind {
		case "clip":
			clips++
		case "unclip":
			clips--
		case "text":
			places = m.Text.Box(0)
		default:
			if clips == 0 {
				places = slices.Concat(m.Points, plane.Ring(slices.Concat(m.Rings...)))
			}
		}
		for _, p := range places {
			require.True(t, page.Contains(p), "%s: %s %q in %v at %v is off the page", what, m.Kind, m.Text.Say, m.Groups, p)
		}
	}
}

func TestPicturesAndLayersStayWithinTheFrame(t *testing.T) {
	w := worktest.Ferry(t)
	with := screenWith(t, w)
	with.Composition.Part = true
	for face := range w.Site.Faces {
		frame := screen.Frame(w, face)
		assert.True(t, frame.Contains(w.Site.Faces[face].Outline.Bounds().Min) && frame.Contains(w.Site.Faces[face].Outline.Bounds().Max))
		for _, look := range screen.Looks() {
			r := shown(t, func(c draw.Canvas) error { return screen.Face(c, w, face, look) })
			assert.Equal(t, draw.Size{Width: frame.Width(), Height: frame.Height()}, r.Pages[0])
			within(t, r, string(look))
		}
		for _, layer := range screen.Layers() {
			r := shown(t, func(c draw.Canvas) error {
				return screen.DrawLayer(context.Background(), c, w, face, layer, with)
			})
			assert.Equal(t, draw.Size{Width: frame.Width(), Height: frame.Height()}, r.Pages[0])
			within(t, r, string(layer))
		}
	}
}

// layerOf records one layer of the first face.
func layerOf(t *testing.T, w holemap.Work, layer screen.Layer, with screen.With) *draw.Record {
	t.Helper()
	return shown(t, func(c draw.Canvas) error { return screen.DrawLayer(context.Background(), c, w, 0, layer, with) })
}

func TestTheLayerOfZonesHatchesEachAndSaysWhy(t *testing.T) {
	r := layerOf(t, worktest.Ferry(t), screen.LayerZones, screen.With{})
	says := strings.Join(r.Texts(1), " ")
	assert.Contains(t, says, "no holes: fire opening")
	assert.Contains(t, says, "nothing that burns")
	assert.Contains(t, says, "lamp switch")
	angles := map[string]float64{}
	for _, m := range r.Marks {
		if m.Kind == "line" {
			d := m.Points[1].Sub(m.Points[0])
			angles[m.Groups[len(m.Groups)-1]] = math.Copysign(1, d.X*d.Y)
		}
	}
	assert.NotEqual(t, angles["zone fire opening"], angles["zone lamp switch"], "what is forbidden is hatched the other way")
}

func TestTheLayerOfTheDatumSaysItsHeight(t *testing.T) {
	w := worktest.Ferry(t)
	r := layerOf(t, w, screen.LayerDatum, screen.With{})
	assert.Contains(t, r.Texts(1), "datum 1500 mm")
	assert.Contains(t, r.Texts(1), "2700 mm")
	want := onScreen(w, 0)(plane.Point{Y: 1500}).Y
	assert.True(t, slices.ContainsFunc(r.Marks, func(m draw.Mark) bool {
		return m.Kind == "line" && m.Paint.Stroke.Dash == draw.DashDot && math.Abs(m.Points[0].Y-want) < 0.01
	}))
}

func TestTheLayersOfSheetsShowThePrintedOnesAndTheHolesNearTheirSeams(t *testing.T) {
	w := worktest.Ferry(t)
	with := screenWith(t, w)
	tiles := with.Cut.Tiles(0)
	var names, near []string
	for _, tile := range tiles {
		if len(tile.Holes) > 0 {
			names = append(names, "sheet "+tile.Name)
		}
	}
	for _, h := range w.Map.Holes {
		const air = 8.0 // mm, how far holes keep from a seam
		for _, tile := range tiles {
			c := tile.Cell.Grow(air)
			left, top := math.Abs(h.At.X-tile.Cell.Min.X), math.Abs(h.At.Y-tile.Cell.Max.Y)
			if h.Face == 0 && len(tile.Holes) > 0 && c.Contains(h.At) && math.Min(left, top) < air-0.001 {
				near = append(near, fmt.Sprintf("hole %d", h.Number))
				break
			}
		}
	}
	groups := func(layer screen.Layer, kind, prefix string) []string {
		var out []string
		for _, m := range layerOf(t, w, layer, with).Marks {
			if last := m.Groups[len(m.Groups)-1]; m.Kind == kind && strings.HasPrefix(last, prefix) {
				out = append(out, last)
			}
		}
		return out
	}
	assert.ElementsMatch(t, names, groups(screen.LayerTiles, "polygon", "sheet "))
	assert.ElementsMatch(t, near, groups(screen.LayerSeams, "circle", "hole "))
	assert.Greater(t, len(names), 20)
}

func TestTheLayerOfStandsHasEachOfTheFaceOnce(t *testing.T) {
	w := worktest.Ferry(t)
	with := screenWith(t, w)
	var want, got []string
	for _, s := range with.Stands {
		if s.Face == 0 {
			want = append(want, fmt.Sprintf("stand %d", s.Number))
		}
	}
	for _, m := range layerOf(t, w, screen.LayerStands, with).Marks {
		if m.Kind == "polygon" && in(m, "stand ") {
			got = append(got, m.Groups[len(m.Groups)-1])
		}
	}
	assert.ElementsMatch(t, want, got)
	assert.NotEmpty(t, want)
}

// The ink of a dot is as the density where it stands, and a line runs where the density is what it says.
func TestTheLayerOfDensityIsTrue(t *testing.T) {
	w := worktest.Ferry(t)
	frame := screen.Frame(w, 0)
	var perDensity []float64
	lines := 0
	for _, m := range layerOf(t, w, screen.LayerDensity, screenWith(t, w)).Marks {
		switch {
		case m.Kind == "polygon" && in(m, "shades"):
			x := m.Rings[0].Bounds().Centre().X + frame.Min.X
			perDensity = append(perDensity, math.Abs(m.Rings[0].Area())/grows{}.At(space.Frame{}, plane.Point{X: x}))
		case m.Kind == "line":
			var level float64
			_, err := fmt.Sscanf(m.Groups[len(m.Groups)-1], "density %g", &level)
			require.NoError(t, err)
			assert.InDelta(t, level, grows{}.At(space.Frame{}, plane.Point{X: m.Points[0].X + frame.Min.X}), 0.001)
			lines++
		}
	}
	require.Greater(t, len(perDensity), 300)
	assert.InEpsilon(t, slices.Max(perDensity), slices.Min(perDensity), 0.001)
	assert.Greater(t, lines, 100)
}

func TestTheLayerOfFlowRunsWithTheFlow(t *testing.T) {
	w := worktest.Ferry(t)
	frame := screen.Frame(w, 0)
	arrows := 0
	for _, m := range layerOf(t, w, screen.LayerFlow, screenWith(t, w)).Marks {
		if m.Kind != "line" {
			continue
		}
		arrows++
		middle := m.Points[0].Lerp(m.Points[1], 0.5)
		way := m.Points[1].Sub(m.Points[0])
		want := turning{}.At(space.Frame{}, plane.Point{X: middle.X + frame.Min.X})
		assert.Less(t, plane.Point{X: way.X, Y: -way.Y}.Scale(1/way.Len()).Distance(want), 1e-6)
	}
	assert.Greater(t, arrows, 200)
}

// Parted flow has no arrow on what is in the way.
func TestTheLayerOfFlowIsParted(t *testing.T) {
	w := worktest.Ferry(t)
	with := screenWith(t, w)
	with.Composition.Part = true
	frame, free := screen.Frame(w, 0), plane.NewIndex(w.Site.Faces[0].Free())
	lines := 0
	for _, m := range layerOf(t, w, screen.LayerFlow, with).Marks {
		if m.Kind == "line" {
			lines++
			middle := m.Points[0].Lerp(m.Points[1], 0.5)
			assert.True(t, free.Clear(plane.Point{X: middle.X + frame.Min.X, Y: frame.Max.Y - middle.Y}, -0.001))
		}
	}
	assert.Greater(t, lines, 100)
	cancelled, cancel := context.WithCancel(context.Background())
	cancel()
	assert.ErrorIs(t, screen.DrawLayer(cancelled, draw.NewRecord(), w, 0, screen.LayerFlow, with), context.Canceled)
}

func TestTheRoomOnTheScreen(t *testing.T) {
	w := worktest.Ferry(t)
	for _, look := range screen.Looks() {
		r := shown(t, func(c draw.Canvas) error { return screen.Room(c, w, look) })
		assert.Equal(t, draw.Size{Width: 1600, Height: 1000}, r.Pages[0])
		drawn := map[string]bool{}
		for _, m := range r.Marks {
			if m.Kind == "polygon" && in(m, "piece ") {
				drawn[m.Groups[len(m.Groups)-1]] = true
				assert.Equal(t, look == screen.LookHoles, m.Paint.Fill.Colour == draw.White)
			}
		}
		assert.Len(t, drawn, len(w.Layout.Pieces), "both walls are seen")
		assert.Equal(t, look == screen.LookHoles, len(r.Texts(1)) > 0)
	}
}

func TestScreenPicturesSayWhatTheyCannotDraw(t *testing.T) {
	w := worktest.Ferry(t)
	c := draw.NewRecord()
	assert.ErrorContains(t, screen.Face(c, w, 0, "upside down"), `"upside down" is no look`)
	assert.ErrorContains(t, screen.Room(c, w, ""), `"" is no look`)
	assert.ErrorContains(t, screen.Face(c, w, 99, screen.LookHoles), "face number 99")
	assert.ErrorContains(t, screen.DrawLayer(context.Background(), c, w, 0, "mist", screen.With{}), `"mist" is no layer`)
	assert.Empty(t, c.Pages, "nothing was begun")
	assert.Error(t, screen.DrawLayer(context.Background(), c, w, 0, screen.LayerTiles, screen.With{}), "of no cut")
	assert.Equal(t, plane.Rect{}, screen.Frame(w, -1))
}

// A face with nothing on it has pictures and layers all the same.
func TestAnEmptyFaceOnTheScreen(t *testing.T) {
	w := worktest.Work(t, worktest.FerrySite(), nil)
	for _, look := range screen.Looks() {
		within(t, shown(t, func(c draw.Canvas) error { return screen.Face(c, w, 1, look) }), string(look))
	}
	for _, layer := range screen.Layers() {
		within(t, shown(t, func(c draw.Canvas) error {
			return screen.DrawLayer(context.Background(), c, w, 1, layer, screen.With{})
		}), string(layer))
	}
}

func TestTheSamePictureForTheScreenIsTheSameBytes(t *testing.T) {
	w := worktest.Ferry(t)
	with := screenWith(t, w)
	once := func() string {
		var all bytes.Buffer
		for _, layer := range screen.Layers() {
			c := draw.NewScreenSVG(&all, draw.About{Title: w.Title})
			require.NoError(t, screen.DrawLayer(context.Background(), c, w, 0, layer, with))
			require.NoError(t, c.Close())
		}
		for _, look := range screen.Looks() {
			c := draw.NewScreenSVG(&all, draw.About{Title: w.Title})
			require.NoError(t, screen.Face(c, w, 0, look))
			require.NoError(t, c.Close())
		}
		return all.String()
	}
	assert.Equal(t, once(), once())
}

// crowd is a wall of many pieces.
func crowd(t testing.TB, step float64) holemap.Work {
	s := worktest.Site(wall.Wall{Name: "Hall", Turn: 90, Outline: plane.Rectangle(plane.Point{}, 9000, 6000), Surface: wall.Plaster})
	return worktest.Work(t, s, worktest.Strew(s, 0, step))
}

func BenchmarkScreenFace(b *testing.B) {
	for _, step := range []float64{370, 145} {
		w := crowd(b, step)
		for _, look := range screen.Looks() {
			b.Run(fmt.Sprintf("%d pieces/%s", len(w.Layout.Pieces), look), func(b *testing.B) {
				size := 0
				for b.Loop() {
					var out bytes.Buffer
					c := draw.NewScreenSVG(io.MultiWriter(&out), draw.About{Title: w.Title})
					require.NoError(b, screen.Face(c, w, 0, look))
					require.NoError(b, c.Close())
					size = out.Len()
				}
				b.ReportMetric(float64(size)/float64(len(w.Layout.Pieces)), "B/piece")
			})
		}
	}
}

func BenchmarkScreenLayer(b *testing.B) {
	w := crowd(b, 145)
	with := screenWith(b, w)
	for _, layer := range screen.Layers() {
		b.Run(string(layer), func(b *testing.B) {
			for b.Loop() {
				c := draw.NewScreenSVG(io.Discard, draw.About{Title: w.Title})
				require.NoError(b, screen.DrawLayer(context.Background(), c, w, 0, layer, with))
				require.NoError(b, c.Close())
			}
		})
	}
}
