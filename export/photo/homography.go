package photo

import (
	"math"

	"wallshoal/wall/plane"
)

// A Homography carries points of a wall, in mm, to points of a photo, in pixels: the 3 × 3 matrix that
// takes (x, y, 1) to (u, v, w), the point (u/w, v/w).
type Homography [3][3]float64

// Fit returns the homography that carries the places to the pixels, of which there are four or more:
// exactly for four, and for more with the least algebraic error. It is the normalised direct linear
// transformation of Hartley and Zisserman (Multiple View Geometry in Computer Vision, 2nd ed. 2004,
// algorithm 4.2). W is above 0 at the first point.
func Fit(points []Point) Homography {
	from, to := make([]plane.Point, len(points)), make([]plane.Point, len(points))
	for i, p := range points {
		from[i], to[i] = p.At, p.Pixel
	}
	shiftFrom, scaleFrom := normal(from)
	shiftTo, scaleTo := normal(to)
	// A row of zeros keeps the matrix at least square.
	rows := make([][9]float64, 0, 2*len(points)+1)
	for i := range points {
		a, b := from[i].Sub(shiftFrom).Scale(scaleFrom), to[i].Sub(shiftTo).Scale(scaleTo)
		rows = append(rows,
			[9]float64{-a.X, -a.Y, -1, 0, 0, 0, float64(b.X * a.X), float64(b.X * a.Y), b.X},
			[9]float64{0, 0, 0, -a.X, -a.Y, -1, float64(b.Y * a.X), float64(b.Y * a.Y), b.Y})
	}
	rows = append(rows, [9]float64{})
	v := leastSingular(rows)
	unscale := Homography{{1 / scaleTo, 0, shiftTo.X}, {0, 1 / scaleTo, shiftTo.Y}, {0, 0, 1}}
	h := Homography{{v[0], v[1], v[2]}, {v[3], v[4], v[5]}, {v[6], v[7], v[8]}}
	scale := Homography{{scaleFrom, 0, -float64(scaleFrom * shiftFrom.X)}, {0, scaleFrom, -float64(scaleFrom * shiftFrom.Y)}, {0, 0, 1}}
	h = unscale.times(h).times(scale)
	return h.scaled(1 / h.weight(points[0].At))
}

// normal returns the shift and the scale that bring points about the origin, √2 away on average.
func normal(points []plane.Point) (shift plane.Point, scale float64) {
	for _, p := range points {
		shift = shift.Add(p)
	}
	shift = shift.Scale(1 / float64(len(points)))
	sum := 0.0
	for _, p := range points {
		sum += p.Distance(shift)
	}
	return shift, math.Sqrt2 * float64(len(points)) / sum
}

// leastSingular returns the right singular vector of the least singular value, by one-sided Jacobi
// rotations (Hestenes 1958): columns are turned against one another until all stand square. It takes
// only sums, products and roots, so every machine finds the same one.
func leastSingular(rows [][9]float64) [9]float64 {
	var v [9][9]float64
	for i := range v {
		v[i][i] = 1
	}
	for range 60 {
		turned := false
		for p := range 8 {
			for q := p + 1; q < 9; q++ {
				var a, b, c float64
				for _, r := range rows {
					a, b, c = a+float64(r[p]*r[p]), b+float64(r[q]*r[q]), c+float64(r[p]*r[q])
				}
				if math.Abs(c) <= 1e-15*math.Sqrt(float64(a*b)) || c == 0 {
					continue
				}
				turned = true
				z := (b - a) / (2 * c)
				t := math.Copysign(1, z) / (math.Abs(z) + math.Sqrt(1+float64(z*z)))
				cos := 1 / math.Sqrt(1+float64(t*t))
				sin := float64(cos * t)
				turn := func(row *[9]float64) {
					x, y := row[p], row[q]
					row[p], row[q] = float64(cos*x)-float64(sin*y), float64(sin*x)+float64(cos*y)
				}
				for i := range rows {
					turn(&rows[i])
				}
				for i := range v {
					turn(&v[i])
				}
			}
		}
		if !turned {
			break
		}
	}
	best, least := 0, math.Inf(1)
	for j := range 9 {
		sum := 0.0
		for _, r := range rows {
			sum += float64(r[j] * r[j])
		}
		if sum < least {
			best, least = j, sum
		}
	}
	var out [9]float64
	for i := range v {
		out[i] = v[i][best]
	}
	return out
}

func (h Homography) times(g Homography) Homography {
	var out Homography
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				out[i][j] += float64(h[i][k] * g[k][j])
			}
		}
	}
	return out
}

func (h Homography) scaled(k float64) Homography {
	for i := range h {
		for j := range h[i] {
			h[i][j] = float64(h[i][j] * k)
		}
	}
	return h
}

func (h Homography) row(i int, p plane.Point) float64 {
	return float64(h[i][0]*p.X) + float64(h[i][1]*p.Y) + h[i][2]
}

// weight is the last coordinate of where p goes: above 0 before the camera.
func (h Homography) weight(p plane.Point) float64 { return h.row(2, p) }

// At returns the pixel of a place on the wall before the camera.
func (h Homography) At(p plane.Point) plane.Point {
	w := h.weight(p)
	return plane.Point{X: h.row(0, p) / w, Y: h.row(1, p) / w}
}
