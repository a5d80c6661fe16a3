package main

import (
	"fmt"
	"maps"
	"math"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// A tile is what other programs read on one full-size sheet: where its marks are on the page, in
// mm from the top left, y down, and what its text says of where they belong on the wall.
type tile struct {
	frame   plane.Rect    // what it shows of the wall
	mark    plane.Point   // the black register mark
	crosses []plane.Point // of holes
	level   []float64     // lengths of level lines
	upright []float64     // lengths of upright lines
	place   plane.Point   // of the mark: from the left end, and above the floor or from the foot of the face
	floor   bool          // place is above the floor
	title   string        // of the face
}

// onWall returns where a point of the page comes to lie on the wall.
func (t tile) onWall(p plane.Point) plane.Point {
	return plane.Point{X: t.place.X + p.X - t.mark.X, Y: t.place.Y - (p.Y - t.mark.Y)}
}

// everyCrossIsWhereItsHoleIs goes the whole way from a plan to the crosses on paper, as mutool and
// poppler read the PDF: every sheet says where on the wall its black mark belongs, and from there
// each cross must be a hole of holes.csv, and each hole that the sheet shows a cross.
func everyCrossIsWhereItsHoleIs(t *testing.T, dir string) {
	holes := rows(t, filepath.Join(dir, "holes.csv"))
	seen := map[string]bool{}
	faces, feet := map[string][]map[string]string{}, map[string]float64{}
	datum := 0.0
	for _, h := range where(holes, "face", "wall") {
		if h["from_datum_mm"] == "" {
			continue // a ceiling
		}
		datum = figure(t, h["y_mm"]) - figure(t, h["from_datum_mm"])
	}
	for _, h := range holes {
		title := h["wall"]
		if h["face"] != "wall" {
			title += ", " + h["face"]
		}
		faces[title] = append(faces[title], h)
		if h["from_datum_mm"] == "" {
			continue // the top of something has one height
		}
		feet[title] = datum + figure(t, h["from_datum_mm"]) - figure(t, h["y_mm"]) // above the floor
	}
	for _, tile := range tiles(t, filepath.Join(dir, "hole-map.pdf"), readScope(t, dir).Title, slices.Collect(maps.Keys(faces))) {
		if tile.floor {
			tile.place.Y -= feet[tile.title]
		}
		tile.check(t, faces[tile.title], seen)
	}
	assert.Len(t, seen, len(holes), "every hole is on a sheet")
}

// check compares a tile with the holes of its wall, and marks those that it shows as seen.
func (tl tile) check(t *testing.T, holes []map[string]string, seen map[string]bool) {
	t.Helper()
	const near = 0.1 // mm
	for _, h := range holes {
		at := plane.Point{X: figure(t, h["x_mm"]), Y: figure(t, h["y_mm"])}
		page := plane.Point{X: tl.mark.X + at.X - tl.place.X, Y: tl.mark.Y - (at.Y - tl.place.Y)}
		if !tl.frame.Grow(near).Contains(page) {
			continue
		}
		best := math.Inf(1)
		for _, c := range tl.crosses {
			best = math.Min(best, tl.onWall(c).Distance(at))
		}
		if !tl.frame.Grow(-near).Contains(page) && best > near {
			continue // on the very edge
		}
		seen[h["hole"]] = true
		assert.LessOrEqual(t, best, near, "hole %s of %s is off its cross", h["hole"], tl.title)
	}
	for _, c := range tl.crosses { // the arms of holes beyond the sheet reach in
		if tl.frame.Grow(-near).Contains(c) {
			assert.True(t, slices.ContainsFunc(holes, func(h map[string]string) bool {
				return tl.onWall(c).Distance(plane.Point{X: figure(t, h["x_mm"]), Y: figure(t, h["y_mm"])}) <= near
			}), "a cross of %s without a hole", tl.title)
		}
	}
	for _, lines := range [][]float64{tl.level, tl.upright} {
		assert.True(t, holds(lines, 100), "a check bar of 100 mm")
		assert.True(t, holds(lines, 101.6), "a check bar of 4 in")
	}
}

func figure(t *testing.T, text string) float64 {
	t.Helper()
	n, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return n
}

func holds(lengths []float64, want float64) bool {
	for _, l := range lengths {
		if math.Abs(l-want) < 0.01 {
			return true
		}
	}
	return false
}

// placed finds what a sheet says of its black mark.
var placed = regexp.MustCompile(`([^\n·●:]+?) from (?:the left end|the wall|its front corner|its back corner|the edge at [^·\n]+?|the corner with [^·\n]+?) · ([^\n·]+?) (above the floor|above the foot of this wall|from [^\n·]+)`)

// levelled finds how far the level line of a sheet is from its black mark, where the foot of its wall is not
// the floor that everything else is measured from.
var levelled = regexp.MustCompile(`level (\S+)(?: mm)? is (\S+ mm) (below|above) it`)

// tiles reads the full-size sheets of a hole map; key pages have no mark.
func tiles(t *testing.T, path, work string, titles []string) (found []tile) {
	t.Helper()
	texts := strings.Split(output(t, "pdftotext", path, "-"), "\f")
	for i, page := range pages(t, path) {
		place := placed.FindStringSubmatch(texts[i])
		if place == nil {
			continue
		}
		tl := page.tile(t)
		tl.place = plane.Point{X: length(t, place[1]), Y: length(t, place[2])}
		tl.floor = strings.HasPrefix(place[3], "above")
		if place[3] == "above the foot of this wall" {
			line := levelled.FindStringSubmatch(texts[i])
			require.NotNil(t, line, "sheet %d has no level line:\n%s", i+1, texts[i])
			tl.place.Y = length(t, line[1]) + length(t, line[2])
			if line[3] == "above" {
				tl.place.Y = length(t, line[1]) - length(t, line[2])
			}
		}
		for _, title := range titles {
			block := regexp.MustCompile(`\n` + regexp.QuoteMeta(title) + `\s+` + regexp.QuoteMeta(work))
			if block.MatchString(texts[i]) && len(title) > len(tl.title) {
				tl.title = title
			}
		}
		require.NotEmpty(t, tl.title, "sheet %d names no face:\n%s", i+1, texts[i])
		found = append(found, tl)
	}
	require.NotEmpty(t, found)
	return found
}

func length(t *testing.T, text string) float64 {
	t.Helper()
	mm, err := measure.Parse(strings.ReplaceAll(strings.TrimSpace(text), "–", "-"), measure.Millimetre)
	require.NoError(t, err)
	return mm
}

// A page is the paths of a page in mm from the top left, y down.
type page struct{ strokes, fills, clips []path }

// A path is one path as mutool traces it.
type path struct {
	points []plane.Point // ends of its lines and curves
	curved bool
	black  bool
}

func (p path) box() plane.Rect { return plane.Ring(p.points).Bounds() }

// tile finds the marks of a full-size sheet among its paths.
func (p page) tile(t *testing.T) (tl tile) {
	t.Helper()
	require.NotEmpty(t, p.clips, "a sheet without a frame")
	tl.frame = p.clips[0].box()
	var registers, level, upright []plane.Point
	for _, s := range p.strokes {
		b := s.box()
		switch {
		case s.curved && math.Abs(b.Width()-3.6) < 0.05 && b.Height() > 3 && b.Height() < 3.7:
			registers = append(registers, b.Centre())
		case len(s.points) != 2:
		case b.Height() < 0.01:
			tl.level = append(tl.level, b.Width())
			if math.Abs(b.Width()-8) < 0.01 {
				level = append(level, b.Centre())
			}
		case b.Width() < 0.01:
			tl.upright = append(tl.upright, b.Height())
			if math.Abs(b.Height()-8) < 0.01 {
				upright = append(upright, b.Centre())
			}
		}
	}
	for _, c := range level {
		if at(upright, c) && !at(registers, c) {
			tl.crosses = append(tl.crosses, c)
		}
	}
	var marks []plane.Point
	for _, f := range p.fills {
		if f.curved && f.black && at(registers, f.box().Centre()) {
			marks = append(marks, f.box().Centre())
		}
	}
	require.Len(t, marks, 1, "black register marks on a sheet")
	tl.mark = marks[0]
	return tl
}

// at reports whether one of the points is the point p.
func at(points []plane.Point, p plane.Point) bool {
	for _, q := range points {
		if q.Distance(p) < 0.02 {
			return true
		}
	}
	return false
}

// pages reads every page of a PDF with mutool, whose trace has one element on a line.
func pages(t *testing.T, file string) (all []page) {
	t.Helper()
	var current *path
	var matrix [6]float64
	for line := range strings.Lines(output(t, "mutool", "draw", "-q", "-F", "trace", file)) {
		switch name, _, _ := strings.Cut(strings.TrimLeft(line, " <"), " "); name {
		case "page":
			all = append(all, page{})
		case "stroke_path", "fill_path", "clip_path":
			m := &matrix
			_, err := fmt.Sscan(attribute(line, "transform"), &m[0], &m[1], &m[2], &m[3], &m[4], &m[5])
			require.NoError(t, err)
			current = all[len(all)-1].add(name, attribute(line, "color") == "0")
		case "moveto", "lineto":
			current.extend(t, matrix, attribute(line, "x"), attribute(line, "y"))
		case "curveto":
			current.curved = true
			current.extend(t, matrix, attribute(line, "x3"), attribute(line, "y3"))
		}
	}
	return all
}

// attribute returns the value of an attribute in a line of XML.
func attribute(line, name string) string {
	_, rest, _ := strings.Cut(line, " "+name+`="`)
	value, _, _ := strings.Cut(rest, `"`)
	return value
}

func (p *page) add(kind string, black bool) *path {
	list := map[string]*[]path{"stroke_path": &p.strokes, "fill_path": &p.fills, "clip_path": &p.clips}[kind]
	*list = append(*list, path{black: black})
	return &(*list)[len(*list)-1]
}

// extend adds a point, given in the units of 1/72 in that the matrix m takes to the page.
func (p *path) extend(t *testing.T, m [6]float64, x, y string) {
	t.Helper()
	const unit = 25.4 / 72
	px, py := figure(t, x), figure(t, y)
	p.points = append(p.points, plane.Point{
		X: (m[0]*px + m[2]*py + m[4]) * unit,
		Y: (m[1]*px + m[3]*py + m[5]) * unit,
	})
}
