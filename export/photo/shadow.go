package photo

import (
	"image"
	"math"
	"slices"

	"wallshoal/wall/plane"
)

// shaded returns the photo, scaled down, with the soft shadows of lifted pieces. All is done in whole
// numbers once the corners are placed: pixels whose middle is in a shadow, smoothed by the means of
// boxes, three times over, which is near to a bell curve.
func (v View) shaded(s Scene) *image.RGBA {
	img := v.Picture.small
	b := img.Bounds()
	k := float64(b.Dx()) / float64(v.Picture.Width)
	mask := make([]uint8, b.Dx()*b.Dy())
	lift, n := 0.0, 0
	for _, shape := range s.Shapes {
		if len(shape.Shadow) > 0 {
			paint(mask, b.Dx(), b.Dy(), shape.Shadow, k)
			lift, n = lift+shape.Lift*k, n+1
		}
	}
	out := &image.RGBA{Pix: slices.Clone(img.Pix), Stride: img.Stride, Rect: b}
	if n == 0 {
		return out
	}
	radius := min(12, max(1, int(math.Round(0.2*lift/float64(n)))))
	for range 3 {
		blur(mask, b.Dx(), b.Dy(), 1, b.Dx(), radius)
		blur(mask, b.Dy(), b.Dx(), b.Dx(), 1, radius)
	}
	const darkest = 105 // of 255
	for i, m := range mask {
		keep := 255*255 - int(m)*darkest
		for j := 4 * i; j < 4*i+3; j++ {
			out.Pix[j] = uint8(int(out.Pix[j]) * keep / (255 * 255))
		}
	}
	return out
}

// paint fills what the rings, scaled by k, enclose.
func paint(mask []uint8, w, h int, rings []plane.Ring, k float64) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range rings {
		b := r.Bounds()
		low, high = math.Min(low, b.Min.Y*k), math.Max(high, b.Max.Y*k)
	}
	low, high = math.Max(0, low), math.Min(float64(h), high)
	for y := int(low); float64(y) < high && y < h; y++ {
		at := float64(y) + 0.5
		var xs []float64
		for _, r := range rings {
			for i, p := range r {
				q := r[(i+1)%len(r)]
				p, q = p.Scale(k), q.Scale(k)
				if (p.Y > at) != (q.Y > at) {
					xs = append(xs, p.X+float64((q.X-p.X)*((at-p.Y)/(q.Y-p.Y))))
				}
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			from := int(math.Ceil(math.Min(math.Max(xs[i]-0.5, 0), float64(w))))
			to := int(math.Ceil(math.Min(math.Max(xs[i+1]-0.5, 0), float64(w))))
			for x := from; x < to; x++ {
				mask[y*w+x] = 255
			}
		}
	}
}

// blur replaces each of n values, step apart, in every of rows lines, pitch apart, by the mean of those
// within radius.
func blur(mask []uint8, n, rows, step, pitch, radius int) {
	line := make([]int, n+1) // sums
	for row := range rows {
		for i := range n {
			line[i+1] = line[i] + int(mask[row*pitch+i*step])
		}
		for i := range n {
			from, to := max(0, i-radius), min(n, i+radius+1)
			mask[row*pitch+i*step] = uint8((line[to] - line[from]) / (2*radius + 1))
		}
	}
}
