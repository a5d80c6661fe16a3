package photo

import (
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Camera is where a photo was taken from, in the wall's measures: x and y as on the wall, z off it.
type Camera struct {
	Focal  float64   // pixels
	Centre space.Vec // z is above 0
	third  [3]float64
}

// decompose returns the camera of a homography, for square pixels and a principal point in the
// middle: with the columns h1, h2 of the homography about the middle and ω = diag(1/f², 1/f², 1),
// h1ᵀωh2 = 0 and h1ᵀωh1 = h2ᵀωh2 (Zhang, A flexible new technique for camera calibration, 2000,
// equations 3 and 4, from memory), solved for 1/f² by least squares. There is none where the photo is
// taken so squarely that nothing says how long the lens is.
func decompose(h Homography, width, height int) (Camera, bool) {
	cx, cy := float64(width)/2, float64(height)/2
	m := Homography{{1, 0, -cx}, {0, 1, -cy}, {0, 0, 1}}.times(h)
	a1 := float64(m[0][0]*m[0][1]) + float64(m[1][0]*m[1][1])
	b1 := float64(m[2][0] * m[2][1])
	a2 := float64(m[0][0]*m[0][0]) + float64(m[1][0]*m[1][0]) - float64(m[0][1]*m[0][1]) - float64(m[1][1]*m[1][1])
	b2 := float64(m[2][0]*m[2][0]) - float64(m[2][1]*m[2][1])
	f := math.Sqrt(-(float64(a1*a1) + float64(a2*a2)) / (float64(a1*b1) + float64(a2*b2)))
	side := float64(max(width, height))
	if !(f >= 0.3*side && f <= 6*side) {
		return Camera{}, false
	}
	column := func(j int) space.Vec { return space.Vec{X: m[0][j] / f, Y: m[1][j] / f, Z: m[2][j]} }
	k1, k2, k4 := column(0), column(1), column(2)
	s := math.Sqrt(float64(k1.Len() * k2.Len()))
	r3 := k1.Cross(k2).Scale(1 / s)
	k3 := [3]float64{float64(f*r3.X) + float64(cx*r3.Z), float64(f*r3.Y) + float64(cy*r3.Z), r3.Z}
	det := k1.Dot(k2.Cross(r3))
	if !(math.Abs(det) > 0) {
		return Camera{}, false
	}
	// The centre goes to (0, 0, 0): k1·x + k2·y + r3·z = -k4, by Cramer's rule.
	b := k4.Scale(-1)
	c := Camera{Focal: f, third: k3, Centre: space.Vec{X: b.Dot(k2.Cross(r3)) / det, Y: k1.Dot(b.Cross(r3)) / det, Z: k1.Dot(k2.Cross(b)) / det}}
	return c, c.Centre.Z > 0 && !math.IsInf(c.Centre.Len(), 0)
}

// steady reports whether a camera hangs so little on each pixel that one of them off by one pixel
// changes its focal length by less than a fifth.
func (c Camera) steady(points []Point, width, height int) bool {
	for i := range points {
		for _, d := range []plane.Point{{X: 1}, {Y: 1}} {
			moved := append([]Point(nil), points...)
			moved[i].Pixel = moved[i].Pixel.Add(d)
			other, ok := decompose(Fit(moved), width, height)
			if !ok || math.Abs(other.Focal-c.Focal) > 0.2*c.Focal {
				return false
			}
		}
	}
	return true
}

// project returns the homogeneous pixel of a place in the wall's measures.
func (v View) project(p space.Vec) (x, y, w float64) {
	q := plane.Point{X: p.X, Y: p.Y}
	t := v.camera.third
	return v.H.row(0, q) + float64(t[0]*p.Z), v.H.row(1, q) + float64(t[1]*p.Z), v.H.row(2, q) + float64(t[2]*p.Z)
}
