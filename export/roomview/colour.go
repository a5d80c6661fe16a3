package roomview

import (
	"math"

	"wallshoal/export/draw"
	"wallshoal/wall"
	"wallshoal/wall/space"
)

// The colours of the room in full light: warm greys, lighter than any piece is likely to be dark.
var (
	wallColour   = draw.Colour{R: 247, G: 244, B: 238}
	bodyColour   = draw.Colour{R: 238, G: 232, B: 222}
	floorColour  = draw.Colour{R: 231, G: 224, B: 213}
	frameColour  = draw.Colour{R: 250, G: 248, B: 244}
	glassColour  = draw.Colour{R: 206, G: 219, B: 224}
	doorColour   = draw.Colour{R: 214, G: 201, B: 184}
	hearthColour = draw.Colour{R: 92, G: 86, B: 80}
	plainColour  = draw.Colour{R: 226, G: 221, B: 213}
	personColour = draw.Colour{R: 154, G: 146, B: 136}
	shadeColour  = draw.Colour{R: 62, G: 54, B: 50} // what full shade draws near to
	lineColour   = draw.Colour{R: 96, G: 89, B: 82}
)

var (
	roomEdge    = draw.Stroke{Width: draw.Width018, Colour: lineColour}
	fittingEdge = draw.Stroke{Width: draw.Width013, Colour: lineColour}
)

// light returns the unit step towards the light. It comes over a shoulder of whoever looks: the
// left one, or the right where more of what may carry pieces is in the light then.
func (s Scene) light(c Camera, shown []bool) space.Vec {
	level := space.Vec{X: c.towards.X, Y: c.towards.Y}
	level = level.Scale(1 / level.Len())
	var best space.Vec
	most, places := -1.0, s.spread()
	for _, side := range []float64{-0.62, 0.62} {
		light := c.right.Scale(side).Sub(level.Scale(0.46)).Add(space.Vec{Z: 0.64})
		light = light.Scale(1 / light.Len())
		sum := 0.0
		for _, w := range places {
			if shown[w.face] {
				sum += math.Max(0, w.out.Dot(light))
			}
		}
		if sum > most+1e-6 {
			best, most = light, sum
		}
	}
	return best
}

// lit returns a colour as it looks on a flat thing that faces the given way: between full light
// and half shade, evenly with the cosine.
func lit(colour draw.Colour, normal, light space.Vec) draw.Colour {
	const darkest = 0.30
	return mix(colour, shadeColour, darkest*(1-normal.Dot(light))/2)
}

// fittingColour returns the colour of what is fixed to a wall.
func fittingColour(kind wall.ObstructionKind) draw.Colour {
	switch kind {
	case wall.Window:
		return frameColour
	case wall.Door, wall.ExitDoor, wall.Hatch:
		return doorColour
	case wall.Fireplace:
		return hearthColour
	}
	return plainColour
}

// mix returns the colour a share t of the way from c to d, channel by channel: 0 is c and 1 is d.
func mix(c, d draw.Colour, t float64) draw.Colour {
	blend := func(a, b uint8) uint8 {
		return uint8(math.Round(float64(a) + float64(t*(float64(b)-float64(a)))))
	}
	return draw.Colour{R: blend(c.R, d.R), G: blend(c.G, d.G), B: blend(c.B, d.B)}
}
