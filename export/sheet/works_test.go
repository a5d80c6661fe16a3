package sheet_test

import (
	"bytes"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/sheet"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

var day = time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC)

// fish is an outline that heads right, 120 mm long.
var fish = plane.Ring{
	{X: 60, Y: 0}, {X: 48, Y: 9}, {X: 20, Y: 16}, {X: -10, Y: 12}, {X: -42, Y: 3}, {X: -60, Y: 15},
	{X: -54, Y: 0}, {X: -60, Y: -15}, {X: -42, Y: -3}, {X: -10, Y: -12}, {X: 20, Y: -16}, {X: 48, Y: -9},
}

func kinds() []scatter.Kind {
	return []scatter.Kind{
		{
			Name: "Straight herring", Code: "A", Outline: fish, Colour: scatter.Colour{R: 127, G: 151, B: 168},
			Holes: []scatter.Hole{
				{At: plane.Point{X: 25}, Bit: 1.5, Depth: 25, Fixing: "steel pin 1.5 x 45"},
				{At: plane.Point{X: -30}, Bit: 1.5, Depth: 25, Fixing: "steel pin 1.5 x 45"},
			},
		},
		{
			Name: "Small herring", Code: "S", Outline: plane.Ellipse(plane.Point{}, 40, 11, 32), Colour: scatter.Colour{R: 185, G: 198, B: 207},
			Holes: []scatter.Hole{{Bit: 1.5, Depth: 25, Fixing: "steel pin 1.5 x 45"}},
		},
		{
			Name: "Leaping herring", Code: "L", Outline: plane.Rectangle(plane.Point{X: -45, Y: -20}, 90, 40), Colour: scatter.Colour{R: 40, G: 60, B: 90},
			Holes: []scatter.Hole{{Bit: 6, Depth: 35, Fixing: "plug 6 mm"}},
		},
	}
}

func box(kind wall.ObstructionKind, name string, x, y, width, height float64) wall.Obstruction {
	return wall.Obstruction{Kind: kind, Name: name, Shape: plane.Rectangle(plane.Point{X: x, Y: y}, width, height)}
}

// site surveys a room of walls in a row.
func site(walls ...wall.Wall) wall.Site {
	s, err := wall.Survey(wall.Room{Walls: walls, Datum: 1500})
	if err != nil {
		panic(err)
	}
	return s
}

// work hangs pieces on a site and makes its hole map.
func work(t testing.TB, s wall.Site, pieces []scatter.Piece) holemap.Work {
	t.Helper()
	for i := range pieces {
		pieces[i].ID = i + 1
	}
	w := holemap.Work{
		Title: "Herring at the ferry terminal", For: "The harbour office", Place: "Waiting room, Östra piren",
		By: "The paper studio", Date: day, Units: measure.Millimetre,
		Site: s, Kinds: kinds(), Layout: scatter.Layout{Pieces: pieces},
	}
	m, err := holemap.Make(s, w.Kinds, w.Layout)
	require.NoError(t, err)
	w.Map = m
	return w
}

// strew puts pieces on a face about step mm apart, clear of its obstructions.
func strew(s wall.Site, face int, step float64) []scatter.Piece {
	r := rand.New(rand.NewPCG(7, uint64(face)))
	f := s.Faces[face]
	b := f.Outline.Bounds()
	var out []scatter.Piece
	for y := b.Min.Y + 130; y < b.Max.Y-80; y += step {
		for x := b.Min.X + 130; x < b.Max.X-80; x += step * 1.25 {
			at := plane.Point{X: x + (r.Float64()-0.5)*step*0.5, Y: y + (r.Float64()-0.5)*step*0.4}.Snap(100)
			clear := true
			for _, o := range s.Room.Walls[f.Wall].Obstructions {
				clear = clear && !o.Shape.Bounds().Grow(90).Contains(at)
			}
			if clear && f.Outline.Contains(at) {
				out = append(out, scatter.Piece{
					Face: face, At: at, Kind: r.IntN(100) % 7 % 3,
					Heading: heading.Bearing(math.Mod(375+30*math.Sin(x/700)+60+20*(r.Float64()-0.5), 360)),
				})
			}
		}
	}
	return out
}

func ferrySite() wall.Site {
	zone := func(code, name, reason string, s wall.Strength, r plane.Ring) wall.Zone {
		return wall.Zone{Code: code, Name: name, Shape: plane.RegionOf(r), Strength: s, Binds: wall.Holes, Reason: reason, Source: "common practice"}
	}
	return site(
		wall.Wall{
			Name: "Long wall", Turn: 90, Outline: plane.Rectangle(plane.Point{}, 6400, 2700), Surface: wall.Plaster,
			Obstructions: []wall.Obstruction{
				box(wall.Fixture, "bench", 150, 0, 1850, 860), box(wall.Chimney, "old fireplace", 2250, 0, 1500, 1240),
				box(wall.Fireplace, "fire opening", 2550, 0, 900, 800), box(wall.Bulkhead, "pipe bulkhead", 0, 2420, 6400, 280),
				box(wall.Window, "quay window", 4500, 950, 1100, 1150), box(wall.Radiator, "radiator", 4450, 120, 1200, 600),
				box(wall.Socket, "cleaner's socket", 2077, 257, 86, 86), box(wall.Switch, "lamp switch", 6137, 1157, 86, 86),
			},
			Marked: []wall.Zone{
				zone("cable-band", "lamp switch", "cables usually run straight up and down from here", wall.Caution, plane.Rectangle(plane.Point{X: 6137}, 86, 2700)),
				zone("fire", "fire opening", "nothing that burns within 152 mm of the fire", wall.Forbidden, plane.Rectangle(plane.Point{X: 2398}, 1204, 952)),
			},
		},
		wall.Wall{
			Name: "Ticket wall", Outline: plane.Rectangle(plane.Point{}, 4200, 2700), Surface: wall.Plasterboard,
			Obstructions: []wall.Obstruction{
				box(wall.Fixture, "leaflet shelf", 200, 0, 900, 980), box(wall.Window, "ticket window", 1500, 1000, 1200, 850),
				box(wall.Door, "door to the quay", 3180, 0, 900, 2050), box(wall.Switch, "light switches", 2944, 1157, 151, 86),
				box(wall.Detector, "smoke detector", 2045, 2465, 110, 110),
			},
		},
	)
}

// ferry is a waiting room of two walls with some 320 pieces.
func ferry(t testing.TB) holemap.Work {
	s := ferrySite()
	return work(t, s, append(strew(s, 0, 168), strew(s, 1, 168)...))
}

func print(paper string) sheet.Print {
	p, ok := sheet.PaperByName(paper)
	if !ok {
		panic("no paper " + paper)
	}
	return sheet.Print{Paper: p, Overlap: 12, Margin: 6}
}

// cutUp cuts a work into the sheets of its hole map, over those of older works if any.
func cutUp(t testing.TB, w holemap.Work, p sheet.Print, older ...holemap.Work) sheet.Cut {
	t.Helper()
	cut, err := sheet.CutOf(w, p, older...)
	require.NoError(t, err)
	return cut
}

func pdfOf(t testing.TB, w holemap.Work, picture func(draw.Canvas) error) []byte {
	t.Helper()
	p := draw.NewPDF(draw.About{Title: w.Title, Author: w.By}, w.Date)
	require.NoError(t, picture(p))
	var out bytes.Buffer
	_, err := p.WriteTo(&out)
	require.NoError(t, err)
	return out.Bytes()
}

func svgOf(t testing.TB, w holemap.Work, face int) []byte {
	t.Helper()
	var out bytes.Buffer
	s := draw.NewSVG(&out, draw.About{Title: w.Title})
	require.NoError(t, sheet.Elevation(s, w, face))
	require.NoError(t, s.Close())
	return out.Bytes()
}

// judge runs a program that is not ours on a file and returns what it says. Without the program
// the test is skipped, except where CI is true.
func judge(t *testing.T, file string, content []byte, program string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is not installed", program)
		}
		t.Skipf("%s is not installed", program)
	}
	path := filepath.Join(t.TempDir(), file)
	require.NoError(t, os.WriteFile(path, content, 0o644))
	for i, a := range args {
		args[i] = strings.ReplaceAll(a, "FILE", path)
	}
	out, err := exec.Command(program, args...).CombinedOutput()
	require.NoError(t, err, "%s: %s", program, out)
	return string(out)
}
