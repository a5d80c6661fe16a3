package density

import (
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// tiny is two spots by two: black and white above, a quarter and three quarters of ink below.
func tiny() Picture {
	img := image.NewGray16(image.Rect(3, 5, 5, 7))
	img.SetGray16(3, 5, color.Gray16{0})
	img.SetGray16(4, 5, color.Gray16{0xffff})
	img.SetGray16(3, 6, color.Gray16{0xbfbf}) // 191 of 255
	img.SetGray16(4, 6, color.Gray16{0x4040}) // 64 of 255
	return NewPicture(img)
}

func TestAMapByHand(t *testing.T) {
	front := space.Upright(space.Vec{X: 1200, Y: -300, Z: 800}, 0) // of something 300 mm deep
	m := Map{tiny(), long, plane.Rect{Min: plane.Point{X: 1000, Y: 600}, Max: plane.Point{X: 3000, Y: 1600}}, map[space.Frame]bool{long: true, front: true}, 0.5, 2.5, 0.25}
	ink := func(i float64) float64 { return 0.5 + 2*i }
	for p, want := range map[plane.Point]float64{
		{X: 1500, Y: 1350}: ink(1), {X: 2500, Y: 1350}: ink(0), {X: 1500, Y: 850}: ink(64.0 / 255), {X: 2500, Y: 850}: ink(191.0 / 255), // middles
		{X: 2000, Y: 1350}: ink(0.5), {X: 1500, Y: 1100}: ink((1 + 64.0/255) / 2), {X: 2000, Y: 1100}: ink(0.5), {X: 2250, Y: 1350}: ink(0.25), // between
		{X: 1000, Y: 1600}: ink(1), {X: 3000, Y: 600}: ink(191.0 / 255), {X: 1010, Y: 1590}: ink(1), // past the outermost
		{X: 999, Y: 1300}: 0.25, {X: 1500, Y: 1601}: 0.25, // beside
	} {
		assert.InDelta(t, want, m.At(long, p), 1e-9, "%v", p)
		assert.InDelta(t, want, m.At(front, p.Sub(plane.Point{X: 1200, Y: 800})), 1e-9, "%v square over what stands there", p)
		assert.Equal(t, 1.0, m.At(short, p), "another wall")
	}
	assert.Equal(t, 1000.0, m.Grain(), "two spots, of 500 mm the narrower way")
	m.White, m.Black = 3, 0
	assert.InDelta(t, 0, m.At(long, plane.Point{X: 1500, Y: 1350}), 1e-12)
	assert.InDelta(t, 3, m.At(long, plane.Point{X: 2500, Y: 1350}), 1e-12)
	assert.Equal(t, 1.0, Map{Faces: m.Faces}.At(long, plane.Point{}), "no picture")
}

func TestPictures(t *testing.T) {
	clear := image.NewNRGBA(image.Rect(0, 0, 1, 1))
	assert.InDelta(t, 0, NewPicture(clear).ink[0], 1e-12, "nothing drawn is white")
	clear.SetNRGBA(0, 0, color.NRGBA{0, 0, 0, 102})
	assert.InDelta(t, 0.4, NewPicture(clear).ink[0], 1e-12, "black that 4 of 10 is seen of")
	clear.SetNRGBA(0, 0, color.NRGBA{0, 255, 0, 255})
	assert.InDelta(t, 1-0.587, NewPicture(clear).ink[0], 1e-12)
	assert.True(t, NewPicture(clear).Even())
	assert.False(t, tiny().Even())
	assert.Equal(t, Picture{}, NewPicture(image.NewGray(image.Rectangle{})))
}

// A large image keeps its proportions and its mean.
func TestALargeImage(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 1301, 700))
	for x := range 1301 {
		for y := range 700 {
			img.SetGray(x, y, color.Gray{uint8(255 * x / 1300)})
		}
	}
	p := NewPicture(img)
	assert.Equal(t, 434, p.width)
	assert.Equal(t, 234, p.height)
	mean := 0.0
	for _, ink := range p.ink {
		mean += ink / float64(len(p.ink))
	}
	assert.InDelta(t, 0.5, mean, 0.01)
	for share := 0.0; share <= 1; share += 0.05 {
		assert.InDelta(t, 1-share, p.at(share, math.Mod(7*share, 1)), 0.01)
	}
}
