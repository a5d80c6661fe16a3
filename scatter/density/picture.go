package density

import (
	"image"
	"image/draw"
	"math"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Picture is a drawing in shades of grey.
type Picture struct {
	width, height int
	ink           []float64 // row by row from the top: 0 for white to 1 for black
}

// finest is how many spots a picture has at most along its longer side.
const finest = 512

// NewPicture returns the picture that the image shows on white paper. A grey that is half way from
// white to black in the file counts half, whatever light it gives. A large image is brought down to
// at most 512 spots either way, each the mean of what it covers.
func NewPicture(img image.Image) Picture {
	box := img.Bounds()
	w, h := box.Dx(), box.Dy()
	if w == 0 || h == 0 {
		return Picture{}
	}
	k := (max(w, h) + finest - 1) / finest
	p := Picture{width: (w + k - 1) / k, height: (h + k - 1) / k}
	p.ink = make([]float64, p.width*p.height)
	row := image.NewRGBA(image.Rect(0, 0, w, 1))
	for y := range p.height {
		from, to := y*h/p.height, (y+1)*h/p.height
		sums := make([]int, p.width)
		for line := from; line < to; line++ {
			draw.Draw(row, row.Rect, image.White, image.Point{}, draw.Src)
			draw.Draw(row, row.Rect, img, image.Point{X: box.Min.X, Y: box.Min.Y + line}, draw.Over)
			for x := range sums {
				for i := x * w / p.width; i < (x+1)*w/p.width; i++ {
					sums[x] += grey(row.Pix[4*i : 4*i+3])
				}
			}
		}
		for x, sum := range sums {
			n := (to - from) * ((x+1)*w/p.width - x*w/p.width)
			p.ink[y*p.width+x] = 1 - float64(sum)/float64(white*n)
		}
	}
	return p
}

// white is what grey makes of white.
const white = 255 * 1000

// grey returns how light a colour of red, green and blue looks, by the weights of ITU-R BT.601.
func grey(rgb []uint8) int { return 299*int(rgb[0]) + 587*int(rgb[1]) + 114*int(rgb[2]) }

// Even reports whether the picture is the same grey all over.
func (p Picture) Even() bool {
	for _, ink := range p.ink {
		if ink != p.ink[0] {
			return false
		}
	}
	return true
}

// at returns the ink at shares of the picture's width from its left and of its height from its top:
// that of a spot at its middle, between spots in proportion, and past the outermost as theirs.
func (p Picture) at(across, down float64) float64 {
	x, right := spots(across, p.width)
	y, below := spots(down, p.height)
	ink := func(dx, dy int) float64 {
		return p.ink[min(y+dy, p.height-1)*p.width+min(x+dx, p.width-1)]
	}
	upper := ink(0, 0) + float64(right*(ink(1, 0)-ink(0, 0)))
	lower := ink(0, 1) + float64(right*(ink(1, 1)-ink(0, 1)))
	return upper + float64(below*(lower-upper))
}

// spots returns the spot of n before the share, and how far on the way to the next it is, 0 to 1.
func spots(share float64, n int) (int, float64) {
	s := math.Min(math.Max(float64(share*float64(n))-0.5, 0), float64(n-1))
	first := math.Floor(s)
	return int(first), s - first
}

// A Map is a picture laid over a wall, and square to the wall over what stands on it. Beside it,
// and on other walls, it changes nothing or does as it is told.
type Map struct {
	Picture Picture
	Wall    space.Frame
	Over    plane.Rect           // on the wall
	Faces   map[space.Frame]bool // of the wall, itself and those of what stands on it
	White   float64              // how dense it is where the picture is white, against the other walls
	Black   float64              // and where it is black
	Beside  float64              // and on the wall's faces beside the picture
}

// At implements Field.
func (m Map) At(f space.Frame, p plane.Point) float64 {
	if !m.Faces[f] || len(m.Picture.ink) == 0 {
		return 1
	}
	q, _ := m.Wall.Local(f.At(p))
	if !m.Over.Contains(q) {
		return m.Beside
	}
	ink := m.Picture.at((q.X-m.Over.Min.X)/m.Over.Width(), (m.Over.Max.Y-q.Y)/m.Over.Height())
	return math.Max(0, m.White+float64(ink*(m.Black-m.White)))
}

// Grain returns the least distance in mm over which the density changes by much: two spots of the
// picture.
func (m Map) Grain() float64 {
	return 2 * math.Min(m.Over.Width()/float64(m.Picture.width), m.Over.Height()/float64(m.Picture.height))
}
