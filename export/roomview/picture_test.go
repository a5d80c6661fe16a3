package roomview

import (
	"bytes"
	"fmt"
	"io"
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
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/walltest"
)

// pictures returns both pictures of a room with pieces on every face.
func pictures(t testing.TB, room wall.Room, n int) map[string]Picture {
	s, err := New(strewnRoom(t, room, n))
	require.NoError(t, err)
	return map[string]Picture{"perspective": s.Perspective(), "isometric": s.Isometric()}
}

// Nothing that is shown is cut off at the sides, and the eye stands before all of it at the height
// of a standing person's eyes.
func TestNothingIsCutOff(t *testing.T) {
	for name, room := range shapes() {
		for kind, p := range pictures(t, room, 60) {
			for _, f := range p.gathered() {
				if f.name == "floor" {
					continue
				}
				if p.camera.eye[3] != 0 {
					for _, l := range f.loops {
						for _, k := range l {
							assert.Greater(t, p.camera.depth(k.at), nearest, "%s, %s: %s lies before the eye", name, kind, f.name)
						}
					}
				}
				b := boxOf(p.camera, f)
				if f.rank == rankShadow || f.rank == rankPiece {
					continue
				}
				in := p.box.Grow(1e-6 * p.box.Width())
				assert.True(t, in.Contains(b.Min) && in.Contains(b.Max), "%s, %s: %s is in the picture", name, kind, f.name)
			}
		}
		eye := pictures(t, room, 60)["perspective"].camera.place()
		assert.Equal(t, eyeHeight, eye.Z)
	}
}

// A room whose walls stand open to one side is shown with all its walls; a closed one is looked
// into through those that are near.
func TestWhatTheEyeIsShown(t *testing.T) {
	for name, want := range map[string]int{"single": 1, "corner": 2, "outside": 2, "u": 3} {
		p := pictures(t, shapes()[name], 60)["perspective"]
		walls := 0
		for i, f := range p.scene.work.Site.Faces {
			if f.IsWall() && p.shown[i] {
				walls++
			}
		}
		assert.Equal(t, want, walls, name)
	}
	p := pictures(t, shapes()["closed"], 60)["perspective"]
	left := 0
	for i, f := range p.scene.work.Site.Faces {
		if f.IsWall() && !p.shown[i] {
			left++
		}
	}
	assert.Contains(t, []int{1, 2}, left, "one wall or two are left out")
	ceiling := pictures(t, shapes()["ceiling"], 60)["perspective"]
	last := 0
	for i, f := range ceiling.scene.work.Site.Faces {
		if f.IsWall() {
			last = i
		}
	}
	assert.True(t, ceiling.shown[last], "the ceiling is seen from below")
}

// Pieces on a corner of two walls can all be seen in the perspective, none being on a face that
// looks away.
func TestPiecesThatAreShown(t *testing.T) {
	room := shapes()["corner"]
	room.Walls[0].Obstructions = nil
	for kind, p := range pictures(t, room, 200) {
		assert.Zero(t, p.Missing(), kind)
		painted := map[string]bool{}
		for _, f := range p.facets {
			painted[f.name] = true
		}
		for _, piece := range p.scene.work.Layout.Pieces {
			assert.True(t, painted[fmt.Sprintf("piece %d", piece.ID)], "%s: piece %d", kind, piece.ID)
		}
	}
}

// The figure stands on the floor with nothing before it, and clear of walls and what stands out of
// them. A room that it would dwarf has none.
func TestTheFigureFindsItsPlace(t *testing.T) {
	for name, room := range shapes() {
		for kind, p := range pictures(t, room, 100) {
			parts := p.scene.person(p.camera)
			if !assert.Len(t, parts, 2, "%s, %s: body and head", name, kind) {
				continue
			}
			feet := parts[0].centre
			feet.Z = 0
			assert.True(t, p.scene.floor.Contains(plane.Point{X: feet.X, Y: feet.Y}), "%s, %s", name, kind)
			for i := range room.Walls {
				f, _ := p.scene.standing(i)
				q, off := f.Frame.Local(feet)
				if q.X > 0 && q.X < room.Walls[i].Outline.Bounds().Max.X {
					assert.Greater(t, math.Abs(off), 250.0, "%s, %s", name, kind)
				}
			}
		}
	}
	low := wall.Room{Walls: []wall.Wall{{Name: "Plinth", Surface: wall.Stone, Outline: plane.Rectangle(plane.Point{}, 500, 300)}}}
	for kind, p := range pictures(t, low, 3) {
		assert.Empty(t, p.scene.person(p.camera), kind)
	}
}

// Pieces hang as far off their face as their kind stands off, and their shadows fall away from the
// light by that height over the slope of the light.
func TestStandOffAndShadow(t *testing.T) {
	p := pictures(t, shapes()["single"], 80)["perspective"]
	shadows := 0
	for _, h := range p.scene.hung {
		f := p.scene.work.Site.Faces[h.face].Frame
		for _, k := range h.loops[0] {
			_, off := f.Local(k.at)
			assert.InDelta(t, h.off, off, 1e-9)
		}
		shadow, falls := p.shadow(h)
		if !falls || !h.inside {
			continue
		}
		shadows++
		ray := h.loops[0][0].at.Sub(shadow.loops[0][0].at)
		assert.InDelta(t, ray.Len(), ray.Dot(p.light), 1e-6, "from the shadow one looks past the piece into the light")
	}
	assert.Greater(t, shadows, 5)
}

// Rooms of every awkward shape that walls come in have their pictures.
func TestAwkwardWalls(t *testing.T) {
	for _, w := range walltest.Elevations() {
		for kind, p := range pictures(t, wall.Room{Walls: []wall.Wall{w}}, 20) {
			record := draw.NewRecord()
			record.Page(420, 297)
			taken := p.Draw(record, sheetArea)
			require.NoError(t, record.Close(), "%s, %s", w.Name, kind)
			assert.Greater(t, p.Shape(), 0.0, "%s, %s", w.Name, kind)
			in := sheetArea.Grow(1e-6)
			assert.True(t, in.Contains(taken.Min) && in.Contains(taken.Max), "%s, %s", w.Name, kind)
		}
	}
}

func drawnAsSVG(t testing.TB, seed uint64) []byte {
	r := rand.New(rand.NewPCG(seed, 4))
	s, err := New(strewn(surveyed(t, r), r, 80))
	require.NoError(t, err)
	var out bytes.Buffer
	c := draw.NewSVG(&out, draw.About{Title: "Room"})
	c.Page(420, 297)
	s.Perspective().Draw(c, sheetArea)
	require.NoError(t, c.Close())
	return out.Bytes()
}

func TestTheSameRoomIsTheSameBytes(t *testing.T) {
	for seed := range uint64(5) {
		assert.True(t, bytes.Equal(drawnAsSVG(t, seed), drawnAsSVG(t, seed)))
	}
}

// Both backends stand before judges that are not ours.
func TestOutsideJudges(t *testing.T) {
	dir := t.TempDir()
	svg, pdf := filepath.Join(dir, "room.svg"), filepath.Join(dir, "room.pdf")
	require.NoError(t, os.WriteFile(svg, drawnAsSVG(t, 1), 0o644))
	c := draw.NewPDF(draw.About{Title: "Room"}, time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC))
	for _, p := range pictures(t, shapes()["closed"], 80) {
		c.Page(420, 297)
		p.Draw(c, sheetArea)
	}
	var out bytes.Buffer
	_, err := c.WriteTo(&out)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(pdf, out.Bytes(), 0o644))
	for _, judge := range [][]string{{"xmllint", "--noout", svg}, {"qpdf", "--check", pdf}} {
		if _, err := exec.LookPath(judge[0]); err != nil {
			if os.Getenv("CI") == "true" {
				t.Fatalf("%s is not installed", judge[0])
			}
			t.Skipf("%s is not installed", judge[0])
		}
		said, err := exec.Command(judge[0], judge[1:]...).CombinedOutput()
		assert.NoError(t, err, "%s: %s", judge[0], said)
	}
}

func TestFaultsAreTold(t *testing.T) {
	_, err := New(strewn(wall.Site{}, nil, 0))
	assert.ErrorIs(t, err, ErrNoRoom)
	w := strewnRoom(t, shapes()["corner"], 5)
	w.Layout.Pieces[2].Kind = 7
	_, err = New(w)
	assert.ErrorContains(t, err, fmt.Sprintf("piece %d is of kind number 7", w.Layout.Pieces[2].ID))
	w.Layout.Pieces[2].Kind = 0
	w.Layout.Pieces[2].Face = -1
	_, err = New(w)
	assert.ErrorContains(t, err, "face number -1")
}

// The speed that a pack needs: 2,000 pieces in a room with a chimney breast in well under 0.5 s.
func BenchmarkPerspectiveOf2000(b *testing.B) {
	w := strewnRoom(b, shapes()["corner"], 2000)
	for b.Loop() {
		s, err := New(w)
		require.NoError(b, err)
		c := draw.NewSVG(io.Discard, draw.About{})
		c.Page(420, 297)
		s.Perspective().Draw(c, sheetArea)
		require.NoError(b, c.Close())
	}
}

// A hall of many walls, with much on every one.
func BenchmarkPerspectiveOfAHall(b *testing.B) {
	var room wall.Room
	for i := range 24 {
		var on []wall.Obstruction
		for j := range 20 {
			on = append(on, thing(wall.Column, 100+200*float64(j), 100*float64(j%7), 90, 1500, 60+float64(10*j)))
		}
		room.Walls = append(room.Walls, upright(fmt.Sprint("Wall ", i), 15, 4400, on...))
	}
	w := strewnRoom(b, room, 2000)
	for b.Loop() {
		s, err := New(w)
		require.NoError(b, err)
		s.Perspective()
	}
}
