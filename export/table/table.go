// Package table writes the lists of holes and pieces as CSV, for spreadsheets and for programs.
//
// Lengths are mm with one decimal and headings are degrees clockwise from straight up with two.
// The text is UTF-8, and every row is one line. A cell that a spreadsheet would run as a formula
// has an apostrophe put before it; Restore takes it away again.
package table

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// WriteHoles writes one row a hole, in the order of their numbers, and returns the first error.
// x_mm is from the left end of the face. On an upright face y_mm is above the floor and
// from_datum_mm above the datum of the room. On a top, an underside, a ceiling or a slope y_mm is
// from the lower edge as the sheets draw it, and from_datum_mm is empty. The codes of several
// cautions stand in one cell with semicolons between.
func WriteHoles(w io.Writer, work holemap.Work) error {
	rows := [][]string{{
		"hole", "piece", "kind", "wall", "face", "x_mm", "y_mm", "from_datum_mm",
		"bit_mm", "depth_mm", "fixing", "heading_deg", "caution",
	}}
	for _, h := range work.Map.Holes {
		if !finite(h.At.X, h.At.Y, h.FromDatum, h.Bit, h.Depth, float64(h.Heading)) {
			return fmt.Errorf("hole %d has a measure that is not a number", h.Number)
		}
		face := work.Site.Faces[h.Face]
		rows = append(rows, []string{
			strconv.Itoa(h.Number), strconv.Itoa(h.Piece), Safe(h.Code),
			Safe(work.Site.Room.Walls[face.Wall].Name), Safe(face.Name),
			length(h.At.X), length(fromFoot(face, h.At)), fromDatum(face, h),
			bit(h.Bit), length(h.Depth), Safe(h.Fixing), degrees(float64(h.Heading)),
			Safe(strings.Join(h.Cautions, "; ")),
		})
	}
	return write(w, rows)
}

// WritePieces writes one row a piece, in the order of their numbers, and returns the first error.
// x_mm and y_mm are of the piece's centre on the face, measured as those of holes. The stand that a
// piece is hung from is empty where stands, by the ID of the piece, does not say it.
func WritePieces(w io.Writer, work holemap.Work, stands map[int]int) error {
	rows := [][]string{{"piece", "kind", "name", "wall", "face", "x_mm", "y_mm", "heading_deg", "locked", "stand"}}
	for _, p := range byID(work.Layout.Pieces) {
		if !finite(p.At.X, p.At.Y, float64(p.Heading)) {
			return fmt.Errorf("piece %d has a measure that is not a number", p.ID)
		}
		face, kind := work.Site.Faces[p.Face], work.Kinds[p.Kind]
		rows = append(rows, []string{
			strconv.Itoa(p.ID), Safe(kind.Code), Safe(kind.Name),
			Safe(work.Site.Room.Walls[face.Wall].Name), Safe(face.Name),
			length(p.At.X), length(fromFoot(face, p.At)), degrees(float64(p.Heading)), strconv.FormatBool(p.Locked),
			stand(stands, p.ID),
		})
	}
	return write(w, rows)
}

// stand returns the number of the stand that a piece is in, or nothing where that is not known.
func stand(stands map[int]int, piece int) string {
	if n, known := stands[piece]; known {
		return strconv.Itoa(n)
	}
	return ""
}

// fromFoot returns how far a point of the face is above the floor, or from the lower edge of a face
// that is not upright, in mm.
func fromFoot(f wall.Face, p plane.Point) float64 {
	if !holemap.Upright(f) {
		return p.Y
	}
	return f.Frame.Origin.Z + p.Y
}

// fromDatum returns how far a hole is above the datum, or nothing on a face that is not upright.
func fromDatum(f wall.Face, h holemap.Hole) string {
	if !holemap.Upright(f) {
		return ""
	}
	return length(h.FromDatum)
}

func byID(pieces []scatter.Piece) []scatter.Piece {
	return slices.SortedStableFunc(slices.Values(pieces), func(a, b scatter.Piece) int { return cmp.Compare(a.ID, b.ID) })
}

// write writes the rows; WriteAll flushes, and reports what any of it met.
func write(w io.Writer, rows [][]string) error { return csv.NewWriter(w).WriteAll(rows) }

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// length returns mm with one decimal.
func length(mm float64) string { return decimal(mm, 1) }

// degrees returns a heading with two decimals.
func degrees(deg float64) string { return decimal(deg, 2) }

// bit returns the diameter of a bit with one decimal, or two where one would name another bit:
// 0.75 mm pins and 3/16 in are sold.
func bit(mm float64) string {
	if two := decimal(mm, 2); !strings.HasSuffix(two, "0") {
		return two
	}
	return length(mm)
}

// decimal rounds v, halves upwards, and prints it with so many decimals. Upwards on both sides of
// zero, because a height above the floor and the same height against the datum are then rounded
// alike. Adding 0 turns a negative zero into zero.
func decimal(v float64, decimals int) string {
	scale := math.Pow10(decimals)
	return strconv.FormatFloat(math.Floor(float64(v*scale)+0.5)/scale+0, 'f', decimals, 64)
}
