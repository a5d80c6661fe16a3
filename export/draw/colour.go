package draw

import (
	"fmt"
	"math"
)

// hex returns c as an SVG file says it.
func (c Colour) hex() string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }

// Mix returns the colour a share t of the way from c to d, channel by channel: 0 is c and 1 is d.
func (c Colour) Mix(d Colour, t float64) Colour {
	blend := func(a, b uint8) uint8 {
		return uint8(math.Round(float64(a) + float64(t*(float64(b)-float64(a)))))
	}
	return Colour{blend(c.R, d.R), blend(c.G, d.G), blend(c.B, d.B)}
}
