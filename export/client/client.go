// Package client puts a work into the words of whoever the walls belong to: what is drilled, what
// making good takes, what the site has to provide and confirm, the cautions, and what is agreed.
//
// None of it is advice on the law, and none of it is clearance. The figures are those of the hole map
// and of package makinggood; nothing is counted twice here.
package client

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"wallshoal/export/holemap"
	"wallshoal/export/makinggood"
	"wallshoal/export/number"
	"wallshoal/export/scope"
	"wallshoal/wall/measure"
)

// A Summary is what the client has to know of a work. Lengths are mm.
type Summary struct {
	Title, For, Place, By string
	Date                  string // as 2006-01-02; empty where the plan gives none
	Fingerprint           string
	Units                 measure.Unit
	Pieces, Holes         int
	Walls                 []Wall  // that carry pieces or holes, in the order of the room
	Sizes                 []Size  // of holes, the smallest first
	Opened                float64 // area of the mouths of all holes, cm²
	Good                  makinggood.List
	Checks                []Checks
	Cautions              []Caution // by severity, as they were found
	Dates                 *Dates    // nil where the plan says nothing of days
}

// A Wall is what one wall takes.
type Wall struct {
	Index         int // among the walls of the room
	Name          string
	Surface       string
	Pieces, Holes int
	Ways          []Way   // by bit, depth and fixing
	Faces         []Face  // that carry pieces; one where it is the wall alone
	Weight        float64 // of its pieces, g; 0 where some weight is not known
	Filler        float64 // cm³, with the waste
	Touched       float64 // m²
	Repainted     float64 // m²
}

// A Face is what one face of a wall takes.
type Face struct {
	Name          string
	Pieces, Holes int
}

// A Way is the holes that are drilled alike.
type Way struct {
	Bit, Depth float64
	Fixing     string
	Holes      int
}

// A Size is the holes with mouths of one diameter.
type Size struct {
	Bit   float64
	Holes int
}

// Of puts a work into words. It fails where the settings of the making good cannot be, or the hole map
// is not that of the layout.
func Of(w holemap.Work, s makinggood.Settings) (Summary, error) {
	counted, err := scope.Of(w)
	if err != nil {
		return Summary{}, err
	}
	good, err := makinggood.Of(w, s)
	if err != nil {
		return Summary{}, err
	}
	out := Summary{
		Title: w.Title, For: w.For, Place: w.Place, By: w.By, Fingerprint: counted.Fingerprint, Units: w.Units,
		Pieces: counted.Pieces, Holes: counted.Holes, Good: good,
	}
	if !w.Date.IsZero() {
		out.Date = w.Date.Format("2006-01-02")
	}
	sizes := map[float64]int{}
	for _, h := range w.Map.Holes {
		sizes[h.Bit]++
		out.Opened += float64(math.Pi/4*h.Bit*h.Bit) / 100
	}
	for bit, n := range sizes {
		out.Sizes = append(out.Sizes, Size{bit, n})
	}
	slices.SortFunc(out.Sizes, func(a, b Size) int { return cmp.Compare(a.Bit, b.Bit) })
	for i := range w.Site.Room.Walls {
		if one := wallOf(w, i, good); one.Pieces+one.Holes > 0 {
			out.Walls = append(out.Walls, one)
		}
	}
	out.Cautions = cautions(w)
	out.Checks = checks(w, out)
	return out, nil
}

// wallOf counts the wall with the given index.
func wallOf(w holemap.Work, index int, good makinggood.List) Wall {
	of := w.Site.Room.Walls[index]
	out := Wall{Index: index, Name: of.Name, Surface: string(of.Surface)}
	faces := make([]Face, len(w.Site.Faces))
	known := true
	for _, p := range w.Layout.Pieces {
		if w.Site.Faces[p.Face].Wall == index {
			faces[p.Face].Pieces++
			out.Pieces++
			weight := w.Kinds[p.Kind].Weight
			out.Weight += weight
			known = known && weight > 0
		}
	}
	if !known {
		out.Weight = 0
	}
	ways := map[Way]int{}
	for _, h := range w.Map.Holes {
		if w.Site.Faces[h.Face].Wall == index {
			faces[h.Face].Holes++
			out.Holes++
			ways[Way{h.Bit, h.Depth, h.Fixing, 0}]++
		}
	}
	for i, f := range faces {
		if f.Pieces+f.Holes > 0 {
			f.Name = w.Site.Faces[i].Name
			if w.Site.Faces[i].IsWall() {
				f.Name = "the wall itself"
			}
			out.Faces = append(out.Faces, f)
		}
	}
	for way, n := range ways {
		way.Holes = n
		out.Ways = append(out.Ways, way)
	}
	slices.SortFunc(out.Ways, func(a, b Way) int {
		return cmp.Or(cmp.Compare(a.Bit, b.Bit), cmp.Compare(a.Depth, b.Depth), strings.Compare(a.Fixing, b.Fixing))
	})
	for _, f := range good.Faces {
		if f.Wall == of.Name {
			out.Filler += f.Filler
			out.Touched += f.Touched
			out.Repainted += f.Repainted
		}
	}
	out.Filler, out.Touched, out.Repainted = rounded(out.Filler, 100), rounded(out.Touched, 1e4), rounded(out.Repainted, 1e4)
	return out
}

func rounded(v, steps float64) float64 { return math.Round(v*steps)/steps + 0 }

// Says puts a way of drilling into words.
func (s Summary) Says(w Way) string {
	return fmt.Sprintf("%s wide and %s deep, for %s", s.Length(w.Bit), s.Length(w.Depth), cmp.Or(w.Fixing, "a fixing that the plan does not name"))
}

// Length returns a length of a hole as bits are sold: in mm, or in the units of the plan where those are
// inches or feet.
func (s Summary) Length(mm float64) string {
	if s.Units.Imperial() {
		return measure.Precise(mm, s.Units)
	}
	return measure.Precise(mm, measure.Millimetre)
}

// Area returns m² in the units of the plan.
func (s Summary) Area(m2 float64) string { return makinggood.Area(m2, s.Units) }

// Volume returns cm³ of filler in the units of the plan, as it is sold.
func (s Summary) Volume(cm3 float64) string { return makinggood.Volume(cm3, s.Units) }

// Mouths returns the area of the mouths of all holes in words, with something to compare it with: a
// sheet of A4 is 623.7 cm² and one of Letter 603.2 cm².
func (s Summary) Mouths() string {
	area, sheet, name := fmt.Sprintf("%.1f cm²", s.Opened), 21*29.7, "an A4 sheet"
	if s.Units.Imperial() {
		area, sheet, name = fmt.Sprintf("%.2f sq in", s.Opened/(2.54*2.54)), 8.5*11*2.54*2.54, "a Letter sheet"
	}
	if share := 100 * s.Opened / sheet; share < 95 {
		return fmt.Sprintf("%s, %.2g %% of the size of %s", area, math.Max(share, 0.01), name)
	}
	return area
}

// GoodWords says what making good takes, a paragraph each.
func (s Summary) GoodWords() []string {
	g := s.Good
	out := []string{
		fmt.Sprintf("When the work comes down it leaves %s to fill, if every fixing comes out.", number.Count(g.Holes, "hole", "holes")),
		fmt.Sprintf("Filler: about %s, with %.0f %% more than the holes hold for waste. Where the edge of a hole breaks out it takes more.", s.Volume(g.Filler), 100*g.Waste),
		fmt.Sprintf("Paint: either each hole is touched up, a spot of %s across or %s in all, or, where the spots would show, whole walls are painted from corner to corner, %s.",
			s.Length(g.TouchUp), s.Area(g.Touched), s.Area(g.Repainted)),
		"Old paint changes colour, so new paint from the same tin may still show. Try one spot, let it dry, and decide then.",
		"Fixings that are glued or hammered in may have to stay, sunk below the surface and filled over.",
	}
	return out
}
