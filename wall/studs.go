package wall

import (
	"math"
	"slices"

	"wallshoal/wall/plane"
)

// Studs are what is known of the studs, joists or battens behind a face: upright or level bars, all
// of one width.
type Studs struct {
	At       []float64 // their centre lines in rising order, mm; or
	First    float64   // the centre line of the first, mm, and
	Spacing  float64   // from one centre line to the next, mm, as far as the wall goes
	Width    float64   // as seen from before the wall, mm
	Across   bool      // they run level, and are measured from the floor; else up, from the wall's left end
	Material string    // TimberStud or SteelStud, or empty where it is not known
	Holes    HoleRule
	Keep     float64 // the rim of a hole keeps this far from the edges of a stud, mm
}

// What studs can be made of.
const (
	TimberStud = "timber"
	SteelStud  = "steel"
)

// MaxStuds is how many studs a wall may have.
const MaxStuds = 500

// extent returns from where to where on a wall with that box studs can stand.
func (s Studs) extent(box plane.Rect) (low, high float64) {
	if s.Across {
		return box.Min.Y, box.Max.Y
	}
	return box.Min.X, box.Max.X
}

// last returns the index of the last stud on a wall with that box.
func (s Studs) last(box plane.Rect) int {
	if len(s.At) > 0 {
		return len(s.At) - 1
	}
	_, high := s.extent(box)
	n := math.Floor((high-s.First)/s.Spacing + grain)
	if !(n >= 0) {
		return 0
	}
	return int(math.Min(n, MaxStuds))
}

// centre returns the centre line of the stud with that index.
func (s Studs) centre(i int) float64 {
	if len(s.At) > 0 {
		return s.At[i]
	}
	return s.First + float64(float64(i)*s.Spacing)
}

// off returns how far a place of the wall is from the nearest centre line, in mm.
func (s Studs) off(at plane.Point, last int) float64 {
	across := at.X
	if s.Across {
		across = at.Y
	}
	if len(s.At) == 0 {
		n := math.Round((across - s.First) / s.Spacing)
		n = math.Max(0, math.Min(n, float64(last)))
		return math.Abs(across - s.First - float64(n*s.Spacing))
	}
	i, _ := slices.BinarySearch(s.At, across)
	near := math.Inf(1)
	for _, k := range [2]int{i - 1, i} {
		if k >= 0 && k < len(s.At) {
			near = math.Min(near, math.Abs(across-s.At[k]))
		}
	}
	return near
}

// room returns how far inside of where a hole of that bit may be a place of the wall is, in mm, as
// DrillMargin does.
func (s Studs) room(at plane.Point, bit float64, last int) float64 {
	switch s.Holes {
	case HolesOn:
		half := s.Width/2 - bit/2 - s.Keep
		if half < -grain {
			return math.Inf(-1)
		}
		return half - s.off(at, last)
	case HolesOff:
		return s.off(at, last) - (s.Width/2 + bit/2 + s.Keep)
	}
	return math.Inf(1)
}

// lines returns the centre lines across a box on the wall.
func (s Studs) lines(box plane.Rect, last int) [][2]plane.Point {
	var out [][2]plane.Point
	for i := range last + 1 {
		c := s.centre(i)
		l := [2]plane.Point{{X: c, Y: box.Min.Y}, {X: c, Y: box.Max.Y}}
		if s.Across {
			l = [2]plane.Point{{X: box.Min.X, Y: c}, {X: box.Max.X, Y: c}}
		}
		out = append(out, l)
	}
	return out
}
