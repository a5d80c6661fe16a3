// Package photo draws the pieces of a wall over a photo of it, in the photo's own perspective.
//
// Pixels are counted from the top-left corner of the photo as a viewer shows it, x to the right and y
// down. Four points whose places on the wall are known give the homography from the wall to the
// photo, and where the photo is taken aslant enough also the camera, which lets pieces stand off the
// wall and hides them behind what stands out.
package photo

import (
	"fmt"
	"math"

	"wallshoal/wall/plane"
)

// Limits of the points of a photo.
const (
	MinPoints = 4
	MaxPoints = 20
)

// A Point is a point of the photo whose place on the wall is known.
type Point struct {
	Pixel plane.Point
	At    plane.Point // in the wall's measures, mm
}

// A View is a photo of one wall.
type View struct {
	Wall    int    // index into the walls of the room
	Name    string // of the file
	Picture Picture
	Points  []Point
	H       Homography
	Known   bool // the camera is known

	camera Camera
}

// A Fault is what is wrong with the points of a photo.
type Fault struct {
	Point      int  // index; -1 for all of them
	Pixel      bool // its pixel is at fault
	Wrong, Fix string
}

// New returns the view of the wall with the given index, or what is wrong with the points.
func New(wall int, name string, p Picture, points []Point) (View, []Fault) {
	if faults := check(points, p.Width, p.Height); len(faults) > 0 {
		return View{}, faults
	}
	v := View{Wall: wall, Name: name, Picture: p, Points: points, H: Fit(points)}
	worst, far := 0, 0.0
	for i, q := range points {
		if d := v.H.At(q.At).Distance(q.Pixel); !(d <= far) {
			worst, far = i, d
		}
	}
	if most := 0.02 * float64(max(p.Width, p.Height)); !(far <= most) {
		return View{}, []Fault{{worst, false, fmt.Sprintf("lies %.0f pixels from where the other points have it", far), "correct its pixel or its place"}}
	}
	if c, ok := decompose(v.H, p.Width, p.Height); ok && c.steady(points, p.Width, p.Height) {
		v.camera, v.Known = c, true
	}
	return v, nil
}

// Camera returns the camera, and whether it is known.
func (v View) Camera() (Camera, bool) { return v.camera, v.Known }

// Residual returns how far the points lie from where the homography has them, in pixels: the root of
// the mean of the squares, and the most. Four points always fit.
func (v View) Residual() (rms, most float64) {
	for _, q := range v.Points {
		d := v.H.At(q.At).Distance(q.Pixel)
		rms, most = rms+float64(d*d), math.Max(most, d)
	}
	return math.Sqrt(rms / float64(len(v.Points))), most
}

// check returns what is wrong with points.
func check(points []Point, width, height int) []Fault {
	var out []Fault
	photo := plane.Rect{Max: plane.Point{X: float64(width), Y: float64(height)}}
	if len(points) < MinPoints || len(points) > MaxPoints {
		return []Fault{{-1, false, fmt.Sprintf("there are %d points", len(points)), fmt.Sprintf("give %d to %d points whose places on the wall you measured", MinPoints, MaxPoints)}}
	}
	for i, p := range points {
		if !photo.Contains(p.Pixel) {
			out = append(out, Fault{i, true, fmt.Sprintf("[%g, %g] is outside the photo, which has %d x %d pixels as a viewer shows it", p.Pixel.X, p.Pixel.Y, width, height), "count the pixels from its top-left corner, x to the right and y down"})
		}
		for j, q := range points[:i] {
			if p.Pixel.Distance(q.Pixel) < 2 || p.At.Distance(q.At) < 1 {
				out = append(out, Fault{i, false, fmt.Sprintf("is the same as point %d", j+1), "give each point once, far from the others"})
				break
			}
		}
	}
	if len(out) > 0 {
		return out
	}
	return order(points)
}

// order complains of points on a line, and of a wall that is seen turned over: before the camera
// every three points run round on the photo, with y down, the other way than on the wall.
func order(points []Point) []Fault {
	const fix = "give the corners of something large, like the wall or a window"
	right, wrong, lines := 0, 0, 0
	for i := range points {
		for j := range i {
			for k := range j {
				a, b, c := points[i], points[j], points[k]
				onWall, onPhoto := flatness(a.At, b.At, c.At), flatness(a.Pixel, b.Pixel, c.Pixel)
				switch {
				case math.Abs(onWall) < 0.02 || math.Abs(onPhoto) < 0.01:
					lines++
				case onWall*onPhoto < 0:
					right++
				default:
					wrong++
				}
			}
		}
	}
	switch {
	case lines > 0 && (len(points) == 4 || right+wrong < 4):
		return []Fault{{-1, false, "three of the points lie on a line, or nearly so", fix}}
	case wrong > 0 && right == 0:
		return []Fault{{-1, false, "the points show the wall mirrored", "count x to the right in the photo and on the wall, and y down in the photo and up on the wall"}}
	case wrong > 0:
		return []Fault{{-1, false, "the points are in another order in the photo than on the wall", "see that every pixel stands beside its own place"}}
	}
	return nil
}

// flatness returns twice the area of a triangle over the square of its longest side.
func flatness(a, b, c plane.Point) float64 {
	long := math.Max(a.Distance(b), math.Max(b.Distance(c), c.Distance(a)))
	return b.Sub(a).Cross(c.Sub(a)) / (long * long)
}
