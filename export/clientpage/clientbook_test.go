package clientpage_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/export/clientpage"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/scope"
	"wallshoal/export/tiling"
	"wallshoal/export/worktest"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// client records the pages for the client and returns what they say, page by page.
func client(t *testing.T, w holemap.Work, p tiling.Print) (*draw.Record, []string) {
	t.Helper()
	r := worktest.Recorded(t, func(c draw.Canvas) error { return clientpage.DrawWith(c, w, clientpage.More{}, p) })
	var said []string
	for i := range r.Pages {
		said = append(said, strings.Join(r.Texts(i+1), " "))
	}
	return r, said
}

// Whatever size a hole has, it is drawn so wide, beside bars that are as long as they say.
func TestMouthsAreDrawnAtFullSize(t *testing.T) {
	w := worktest.Ferry(t)
	w.Kinds = slices.Clone(w.Kinds)
	bits := []float64{0.8, 1.5, 6, 12, 25, 68, 100}
	w.Kinds[1].Holes = nil
	for i, bit := range bits {
		w.Kinds[1].Holes = append(w.Kinds[1].Holes, scatter.Hole{At: plane.Point{X: float64(i)}, Bit: bit, Depth: 20})
	}
	w.Kinds[0].Holes = []scatter.Hole{{Bit: 1.5, Depth: 20}}
	var err error
	w.Map, err = holemap.Make(w.Site, w.Kinds, w.Layout)
	require.NoError(t, err)
	for _, paper := range []string{"A4", "Letter"} {
		r, _ := client(t, w, worktest.Print(paper))
		var found, lengths []float64
		for _, m := range r.Marks {
			if len(m.Groups) == 0 || m.Groups[0] != "mouths at full size" {
				continue
			}
			if m.Kind == "circle" {
				found = append(found, math.Round((2*m.Radius+m.Paint.Stroke.Width)*100)/100)
				b := plane.Rect{Min: m.Points[0], Max: m.Points[0]}.Grow(m.Radius)
				size := r.Pages[m.Page-1]
				assert.True(t, b.Min.X >= 14 && b.Max.X <= size.Width-14 && b.Min.Y >= 14 && b.Max.Y <= size.Height-14, "%v leaves the page", b)
			}
			if m.Kind == "line" && len(m.Groups) > 1 {
				lengths = append(lengths, math.Round(m.Points[0].Distance(m.Points[1])*100)/100)
			}
		}
		assert.Equal(t, bits, found, paper)
		assert.Contains(t, lengths, 100.0)
		assert.Contains(t, lengths, 101.6)
	}
}

// What is to be signed has the counts of the scope, wall by wall, and its fingerprint.
func TestWhatIsSignedIsWhatIsCounted(t *testing.T) {
	for name, w := range map[string]holemap.Work{"ferry": worktest.Ferry(t), "faces": worktest.Stepping(t, 400)} {
		s, err := scope.Of(w)
		require.NoError(t, err)
		holes := map[string]int{}
		for _, f := range s.Faces {
			holes[f.Wall] += f.Holes
		}
		r, said := client(t, w, worktest.Print("A4"))
		last := said[len(said)-1]
		assert.Contains(t, last, fmt.Sprintf("Up to %d holes", s.Holes), name)
		assert.Contains(t, last, s.Fingerprint)
		assert.Contains(t, last, "no legal advice")
		texts := r.Texts(len(r.Pages))
		for own, n := range holes {
			if n == 0 {
				continue
			}
			at := slices.Index(texts, own)
			require.GreaterOrEqual(t, at, 0, own)
			assert.Equal(t, fmt.Sprint(n), texts[at+3], "%s: %s", name, own)
		}
		for i, page := range said {
			assert.Contains(t, page, s.Fingerprint)
			assert.Contains(t, page, fmt.Sprintf("page %d of %d", i+1, len(said)))
		}
	}
}

// Where there are more walls than the page to sign has room for they follow on pages of their own.
func TestManyWallsAreSignedForToo(t *testing.T) {
	var walls []wall.Wall
	for i := range 60 {
		walls = append(walls, wall.Wall{Name: fmt.Sprintf("Wall %d", i+1), Surface: wall.Plaster, Outline: plane.Rectangle(plane.Point{}, 500, 600)})
	}
	s := worktest.Site(walls...)
	var pieces []scatter.Piece
	for i := range walls {
		pieces = append(pieces, scatter.Piece{Face: i, At: plane.Point{X: 250, Y: 300}})
	}
	r, said := client(t, worktest.Work(t, s, pieces), worktest.Print("Letter"))
	from := slices.IndexFunc(said, func(s string) bool { return strings.Contains(s, "To agree and sign") })
	require.Positive(t, from)
	all := strings.Join(said[from+1:], " ") + " "
	for _, w := range walls {
		assert.Contains(t, all, w.Name+" ")
	}
	for page := range r.Pages {
		var texts []draw.Text
		for _, m := range r.Marks {
			if m.Kind == "text" && m.Page == page+1 {
				texts = append(texts, m.Text)
				assert.True(t, m.Text.Box(0).Bounds().Max.Y <= r.Pages[page].Height-13.5, m.Text.Say)
			}
		}
		assert.Empty(t, worktest.Collisions(texts), "page %d", page+1)
	}
}

// Pieces that are stuck on have pages too, which ask for nothing that only holes give cause for.
func TestAWorkWithoutHolesCanBeAgreed(t *testing.T) {
	w := worktest.Ferry(t)
	w.Kinds = slices.Clone(w.Kinds)
	for i := range w.Kinds {
		w.Kinds[i].Holes = nil
	}
	var err error
	w.Map, err = holemap.Make(w.Site, w.Kinds, w.Layout)
	require.NoError(t, err)
	_, said := client(t, w, worktest.Print("A4"))
	all := strings.Join(said, " ")
	assert.Contains(t, all, "Up to 0 holes")
	assert.NotContains(t, all, "making good takes")
	assert.NotContains(t, all, "asbestos register or a survey has been seen")
}
