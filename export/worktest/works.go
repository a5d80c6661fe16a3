// Package worktest holds works and what tests of their pages share: readers of what was drawn, and judges of it.
package worktest

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/elevation"
	"wallshoal/export/holemap"
	"wallshoal/export/tiling"
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

// Box returns a rectangular thing with its bottom left corner at x and y.
func Box(kind wall.ObstructionKind, name string, x, y, width, height float64) wall.Obstruction {
	return wall.Obstruction{Kind: kind, Name: name, Shape: plane.Rectangle(plane.Point{X: x, Y: y}, width, height)}
}

// Site surveys a room of walls in a row.
func Site(walls ...wall.Wall) wall.Site {
	s, err := wall.Survey(wall.Room{Walls: walls, Datum: 1500})
	if err != nil {
		panic(err)
	}
	return s
}

// Work hangs pieces on a site and makes its hole map.
func Work(t testing.TB, s wall.Site, pieces []scatter.Piece) holemap.Work {
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

// Strew puts pieces on a face about step mm apart, clear of its obstructions.
func Strew(s wall.Site, face int, step float64) []scatter.Piece {
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

// FerrySite surveys the hall that Ferry hangs in.
func FerrySite() wall.Site {
	zone := func(code, name, reason string, s wall.Strength, r plane.Ring) wall.Zone {
		return wall.Zone{Code: code, Name: name, Shape: plane.RegionOf(r), Strength: s, Binds: wall.Holes, Reason: reason, Source: "common practice"}
	}
	return Site(
		wall.Wall{
			Name: "Long wall", Turn: 90, Outline: plane.Rectangle(plane.Point{}, 6400, 2700), Surface: wall.Plaster,
			Obstructions: []wall.Obstruction{
				Box(wall.Fixture, "bench", 150, 0, 1850, 860), Box(wall.Chimney, "old fireplace", 2250, 0, 1500, 1240),
				Box(wall.Fireplace, "fire opening", 2550, 0, 900, 800), Box(wall.Bulkhead, "pipe bulkhead", 0, 2420, 6400, 280),
				Box(wall.Window, "quay window", 4500, 950, 1100, 1150), Box(wall.Radiator, "radiator", 4450, 120, 1200, 600),
				Box(wall.Socket, "cleaner's socket", 2077, 257, 86, 86), Box(wall.Switch, "lamp switch", 6137, 1157, 86, 86),
			},
			Marked: []wall.Zone{
				zone("cable-band", "lamp switch", "cables usually run straight up and down from here", wall.Caution, plane.Rectangle(plane.Point{X: 6137}, 86, 2700)),
				zone("fire", "fire opening", "nothing that burns within 152 mm of the fire", wall.Forbidden, plane.Rectangle(plane.Point{X: 2398}, 1204, 952)),
			},
		},
		wall.Wall{
			Name: "Ticket wall", Outline: plane.Rectangle(plane.Point{}, 4200, 2700), Surface: wall.Plasterboard,
			Obstructions: []wall.Obstruction{
				Box(wall.Fixture, "leaflet shelf", 200, 0, 900, 980), Box(wall.Window, "ticket window", 1500, 1000, 1200, 850),
				Box(wall.Door, "door to the quay", 3180, 0, 900, 2050), Box(wall.Switch, "light switches", 2944, 1157, 151, 86),
				Box(wall.Detector, "smoke detector", 2045, 2465, 110, 110),
			},
		},
	)
}

// Ferry is a waiting room of two walls with some 320 pieces.
func Ferry(t testing.TB) holemap.Work {
	s := FerrySite()
	return Work(t, s, append(Strew(s, 0, 168), Strew(s, 1, 168)...))
}

// Print returns how a hole map is printed on a paper.
func Print(paper string) tiling.Print {
	p, ok := drafting.PaperByName(paper)
	if !ok {
		panic("no paper " + paper)
	}
	return tiling.Print{Paper: p, Overlap: 12, Margin: 6}
}

// CutUp cuts a work into the sheets of its hole map, over those of older works if any.
func CutUp(t testing.TB, w holemap.Work, p tiling.Print, older ...holemap.Work) tiling.Cut {
	t.Helper()
	cut, err := tiling.CutOf(w, p, older...)
	require.NoError(t, err)
	return cut
}

// PDFOf returns what picture draws of a work as a PDF.
func PDFOf(t testing.TB, w holemap.Work, picture func(draw.Canvas) error) []byte {
	t.Helper()
	p := draw.NewPDF(draw.About{Title: w.Title, Author: w.By}, w.Date)
	require.NoError(t, picture(p))
	var out bytes.Buffer
	_, err := p.WriteTo(&out)
	require.NoError(t, err)
	return out.Bytes()
}

// SVGOf returns the elevation of a face as SVG.
func SVGOf(t testing.TB, w holemap.Work, face int) []byte {
	t.Helper()
	var out bytes.Buffer
	s := draw.NewSVG(&out, draw.About{Title: w.Title})
	require.NoError(t, elevation.Draw(s, w, face))
	require.NoError(t, s.Close())
	return out.Bytes()
}

// Judge runs a program that is not ours on a file and returns what it says. Without the program
// the test is skipped, except where CI is true.
func Judge(t *testing.T, file string, content []byte, program string, args ...string) string {
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

// Recorded records what picture draws.
func Recorded(t testing.TB, picture func(draw.Canvas) error) *draw.Record {
	t.Helper()
	r := draw.NewRecord()
	require.NoError(t, picture(r))
	require.NoError(t, r.Close())
	return r
}

// Collisions lists texts of a page that lie over one another.
func Collisions(texts []draw.Text) []string {
	var out []string
	boxes := make([]plane.Rect, len(texts))
	for i, t := range texts {
		boxes[i] = t.Box(-0.05).Bounds()
	}
	order := make([]int, len(texts))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int {
		if boxes[a].Min.X < boxes[b].Min.X {
			return -1
		}
		return 1
	})
	for n, i := range order {
		for _, j := range order[n+1:] {
			if boxes[j].Min.X > boxes[i].Max.X {
				break
			}
			if boxes[i].Overlaps(boxes[j]) {
				out = append(out, fmt.Sprintf("%q lies over %q at %v", texts[i].Say, texts[j].Say, boxes[i].Min))
			}
		}
	}
	return out
}

// Oddities are works at the ends of what people draw.
func Oddities(t testing.TB) map[string]holemap.Work {
	one := func(s wall.Site) []scatter.Piece {
		b := s.Faces[0].Outline.Bounds()
		return []scatter.Piece{{At: b.Centre(), Heading: 40}}
	}
	tiny := Site(wall.Wall{Name: "Alcove", Outline: plane.Rectangle(plane.Point{}, 260, 180), Surface: wall.Plaster})
	long := Site(wall.Wall{Name: "Corridor", Outline: plane.Rectangle(plane.Point{}, 12_000, 2600), Surface: wall.Concrete})
	vast := Site(wall.Wall{Name: "Quay shed", Outline: plane.Rectangle(plane.Point{}, 180_000, 9000), Surface: wall.Brick})
	name := strings.Repeat("Wall of the long gallery above the landing stage ", 4)
	named := Site(wall.Wall{
		Name: name, Outline: plane.Rectangle(plane.Point{}, 3000, 2400), Surface: wall.Plaster,
		Obstructions: []wall.Obstruction{
			Box(wall.Fixture, name, 400, 300, 900, 700), Box(wall.Socket, name, 1800, 300, 86, 86), Box(wall.Switch, name, 1900, 320, 86, 86),
		},
		Marked: []wall.Zone{{Code: "own", Name: name, Reason: name, Shape: plane.RegionOf(plane.Rectangle(plane.Point{X: 1500}, 90, 2400)), Strength: wall.Caution, Binds: wall.Holes}},
	})
	crowd := wall.Wall{Name: "Switch room", Outline: plane.Rectangle(plane.Point{}, 3000, 2400), Surface: wall.Block}
	for i := range 70 {
		crowd.Obstructions = append(crowd.Obstructions, Box(wall.Socket, fmt.Sprintf("socket %d", i), 100+40*float64(i), 150+31*float64(i), 30, 20))
	}
	sockets := Site(crowd)
	greek := Site(wall.Wall{
		Name: "Τοίχος της σκάλας", Outline: plane.Rectangle(plane.Point{}, 2600, 2400), Surface: wall.Plaster,
		Obstructions: []wall.Obstruction{Box(wall.Window, "παράθυρο προς την αυλή", 900, 900, 800, 900)},
	})
	out := map[string]holemap.Work{
		"tiny":     Work(t, tiny, one(tiny)),
		"long":     Work(t, long, Strew(long, 0, 104)),
		"vast":     Work(t, vast, one(vast)),
		"names":    Work(t, named, Strew(named, 0, 200)),
		"sockets":  Work(t, sockets, one(sockets)),
		"greek":    Work(t, greek, Strew(greek, 0, 170)),
		"framed":   Framed(t),
		"ferry":    Ferry(t),
		"imperial": Ferry(t),
		"faces":    Stepping(t, 900),
		"in feet":  Stepping(t, 900),
	}
	w := out["names"]
	w.Title, w.For, w.Place, w.By = name, name, name, name
	w.Kinds = slices.Clone(w.Kinds)
	w.Kinds[0].Name = name
	out["names"] = w
	w = out["greek"]
	w.Title, w.For, w.By = "Ρέγγες στη σκάλα", "Δημοτικό σχολείο", "鰊 studio"
	out["greek"] = w
	w = out["imperial"]
	w.Units = measure.Foot
	out["imperial"] = w
	w = out["in feet"]
	w.Units = measure.Foot
	out["in feet"] = w
	return out
}

// Stepping is a work on every face of the chamber, with pieces about step mm apart.
func Stepping(t testing.TB, step float64) holemap.Work {
	s := chamber(t)
	return Work(t, s, StrewFaces(s, step))
}

// StrewFaces puts pieces on every used face of a site about step mm apart, whole on what is seen of
// it.
func StrewFaces(s wall.Site, step float64) []scatter.Piece {
	var out []scatter.Piece
	for i, f := range s.Faces {
		if !f.Used {
			continue
		}
		r := rand.New(rand.NewPCG(9, uint64(i)))
		b := f.Outline.Bounds()
		for y := b.Min.Y + 25; y < b.Max.Y-20; y += step {
			for x := b.Min.X + 30; x < b.Max.X-20; x += step * 1.3 {
				at := plane.Point{X: x + 40*r.Float64(), Y: y + 30*r.Float64()}.Snap(100)
				if f.Outline.Distance(at) > 22 {
					out = append(out, scatter.Piece{Face: i, At: at, Kind: r.IntN(3), Heading: heading.Bearing(70 + 40*r.Float64())})
				}
			}
		}
	}
	return out
}

// chamber is a closed room with a ceiling, whose walls step in and out, and a screen in it. Every
// side carries pieces.
func chamber(t testing.TB) wall.Site {
	t.Helper()
	body := func(kind wall.ObstructionKind, name string, depth float64, shape plane.Ring) wall.Obstruction {
		return wall.Obstruction{Kind: kind, Name: name, Depth: depth, Clearance: 10, Shape: shape, Use: wall.Sides(depth)}
	}
	at := func(x, y, width, height float64) plane.Ring {
		return plane.Rectangle(plane.Point{X: x, Y: y}, width, height)
	}
	s, err := wall.Survey(wall.Room{
		Datum: 1500,
		Walls: []wall.Wall{
			{
				Name: "Hearth wall", Turn: 90, Surface: wall.Plaster, Margin: 20, Outline: at(0, 0, 5200, 2600),
				Obstructions: []wall.Obstruction{
					body(wall.Chimney, "chimney breast", 360, at(1300, 0, 1400, 2600)),
					body(wall.Shelf, "mantel", 520, at(1200, 1150, 1600, 110)),
					body(wall.Bulkhead, "pipe bulkhead", 300, at(0, 2300, 5200, 300)),
					body(wall.Niche, "book niche", -280, at(3500, 900, 900, 1000)),
					{Kind: wall.Fireplace, Name: "fire opening", Shape: at(1600, 0, 800, 750)},
				},
			},
			{
				Name: "Garden wall", Turn: 90, Surface: wall.Brick, Margin: 20, Outline: at(0, 0, 3600, 2600),
				Obstructions: []wall.Obstruction{
					body(wall.Column, "buttress", 260, plane.Ring{{X: 1200}, {X: 2300}, {X: 2000, Y: 1500}, {X: 1500, Y: 1500}}),
					{Kind: wall.Window, Name: "garden window", Shape: at(2500, 900, 800, 1200)},
				},
			},
			{Name: "Door wall", Turn: 90, Surface: wall.Plaster, Margin: 20, Outline: at(0, 0, 5200, 2600), Bare: true},
			{Name: "Long bench wall", Turn: 90, Surface: wall.Plaster, Margin: 20, Outline: at(0, 0, 3600, 2600)},
			{
				Name: "Folding screen", Surface: wall.Timber, Margin: 20, Outline: at(0, 0, 1500, 1700),
				Alone: &wall.Stand{At: &plane.Point{X: 2600, Y: -2400}, Thickness: 40, Back: true},
			},
		},
		Ceiling: &wall.Wall{Name: "Ceiling", Surface: wall.Plasterboard, Margin: 20},
	})
	require.NoError(t, err)
	return s
}

// InFeet returns a work as a plan in feet has it.
func InFeet(w holemap.Work) holemap.Work {
	w.Units = measure.Foot
	return w
}

// Framed is a screen with studs, seen from both sides, and a brick wall.
func Framed(t testing.TB) holemap.Work {
	s := Site(
		wall.Wall{
			Name: "Screen", Outline: plane.Rectangle(plane.Point{}, 2000, 1800), Surface: wall.Plasterboard,
			Alone:        &wall.Stand{At: &plane.Point{X: 3000}, Thickness: 100, Back: true},
			Obstructions: []wall.Obstruction{Box(wall.Switch, "lamp switch", 500, 1000, 86, 86)},
			Studs:        &wall.Studs{First: 215, Spacing: 400, Width: 45, Material: wall.SteelStud, Holes: wall.HolesOff},
		},
		wall.Wall{
			Name: "Pier", Outline: plane.Ring{{}, {X: 1200}, {X: 1200, Y: 1500}, {Y: 2100}}, Surface: wall.Brick,
			Joints: &wall.Joints{Course: 75, Length: 225, Width: 10, Bond: wall.HalfBond, Holes: wall.HolesOn}, HoleEdge: 40,
		},
	)
	return Work(t, s, slices.Concat(Strew(s, 0, 300), Strew(s, 1, 250), Strew(s, 2, 250)))
}

// Strewn is a wall with so many holes anywhere.
func Strewn(t testing.TB, width, height float64, n int) holemap.Work {
	t.Helper()
	rng := rand.New(rand.NewPCG(5, uint64(n)))
	s := Site(wall.Wall{Name: "Wall", Outline: plane.Rectangle(plane.Point{}, width, height), Surface: wall.Brick})
	var pieces []scatter.Piece
	for range n {
		at := plane.Point{X: 20 + rng.Float64()*(width-40), Y: 20 + rng.Float64()*(height-40)}
		pieces = append(pieces, scatter.Piece{At: at.Snap(100), Kind: 1, Heading: 90})
	}
	return Work(t, s, pieces)
}

// Auto lets sheets be printed whichever way round takes fewer.
func Auto(p tiling.Print) tiling.Print {
	p.Auto = true
	return p
}

// Landscape returns a print with its sheets level.
func Landscape(p tiling.Print) tiling.Print {
	p.Landscape = true
	return p
}

// Printed counts the tiles that are printed.
func Printed(tiles []tiling.Tile) int {
	n := 0
	for _, t := range tiles {
		if len(t.Holes) > 0 {
			n++
		}
	}
	return n
}

// BlackOn returns where the black register marks stand on each sheet.
func BlackOn(r *draw.Record) map[string][]plane.Point {
	out := map[string][]plane.Point{}
	for _, m := range r.Marks {
		if len(m.Groups) == 2 && m.Groups[1] == "register" && m.Kind == "circle" && m.Paint.Fill == draw.Solid(draw.Black) {
			name := strings.TrimPrefix(m.Groups[0], "sheet ")
			out[name] = append(out[name], m.Points[0])
		}
	}
	return out
}

// DeepFerry is the waiting room with everything as far out of its walls as it stands there. The
// bulkhead reaches the top of its wall, and runs into the other.
func DeepFerry(t testing.TB) holemap.Work {
	t.Helper()
	deep := func(kind wall.ObstructionKind, name string, depth, x, y, width, height float64) wall.Obstruction {
		o := Box(kind, name, x, y, width, height)
		o.Depth, o.Use = depth, wall.Sides(depth)
		return o
	}
	s := Site(
		wall.Wall{
			Name: "Ticket wall", Turn: 90, Outline: plane.Rectangle(plane.Point{}, 4200, 2700), Surface: wall.Plasterboard, Margin: 20,
			Obstructions: []wall.Obstruction{
				deep(wall.Fixture, "leaflet shelf", 300, 200, 0, 900, 980), Box(wall.Window, "ticket window", 1500, 1000, 1200, 850),
			},
		},
		wall.Wall{
			Name: "Long wall", Outline: plane.Rectangle(plane.Point{}, 6400, 2700), Surface: wall.Plaster, Margin: 20,
			Obstructions: []wall.Obstruction{
				deep(wall.Chimney, "old fireplace", 400, 2250, 0, 1500, 1240), deep(wall.Bulkhead, "pipe bulkhead", 350, 0, 2420, 6400, 280),
				deep(wall.Niche, "ship's niche", -250, 4500, 950, 1100, 1150),
			},
		},
	)
	return Work(t, s, StrewFaces(s, 190))
}

// Known is a wall with holes at known places: on seams, in corners, and in between.
func Known(t testing.TB, p tiling.Print) holemap.Work {
	s := Site(wall.Wall{Name: "Measured wall", Outline: plane.Rectangle(plane.Point{}, 1200, 1700), Surface: wall.Brick})
	tiles := CutUp(t, Work(t, s, nil), p).Tiles(0)
	c := tiles[0].Cell
	var pieces []scatter.Piece
	hang := func(x, y float64, kind int, bearing float64) {
		pieces = append(pieces, scatter.Piece{At: plane.Point{X: x, Y: y}.Snap(100), Kind: kind, Heading: heading.Bearing(bearing)})
	}
	hang(600, 900, 1, 90)
	hang(c.Width(), 700, 1, 90)                        // on an upright seam
	hang(400, 1700-2*c.Height(), 1, 0)                 // on a level seam
	hang(3*c.Width(), 1700-3*c.Height(), 1, 45)        // under a register mark of four sheets
	hang(2*c.Width()+5.5, 1700-c.Height()-5.5, 2, 300) // in the overlap of four
	hang(2*c.Width()-1.5, 1700-c.Height()+200, 1, 90)  // so close to a seam that its mark crosses it
	hang(100.13, 100.37, 0, 17.31)
	hang(1100, 1620.5, 0, 243.7)
	hang(812.25, 333.33, 2, 180)
	return Work(t, s, pieces)
}

// Apart returns how far the one line is from the nearest of others, mm; far where there is not one line.
func Apart(line, others []float64) float64 {
	if len(line) != 1 {
		return math.Inf(1)
	}
	best := math.Inf(1)
	for _, o := range others {
		best = math.Min(best, math.Abs(o-line[0]))
	}
	return best
}

// stair is a wall up a stair with pieces strewn over it, a lamp and a handrail that stand out of it.
func stair(t testing.TB, apart float64) holemap.Work {
	w := wall.Wall{
		Name: "Stair wall", Surface: wall.Brick, Margin: 50,
		Outline:      plane.Ring{{}, {X: 1200}, {X: 4500, Y: 2160}, {X: 6000, Y: 2160}, {X: 6000, Y: 4760}, {X: 4300, Y: 4760}, {X: 900, Y: 2600}, {Y: 2600}},
		Obstructions: []wall.Obstruction{Box(wall.Fixture, "lamp", 2300, 2900, 280, 280)},
	}
	w.Obstructions[0].Depth = 110
	s := Site(w)
	return Work(t, s, Strew(s, 0, apart))
}

// Lands reports whether one of the neighbours is printed.
func Lands(below []tiling.Neighbour) bool {
	return slices.ContainsFunc(below, func(n tiling.Neighbour) bool { return n.Printed })
}
