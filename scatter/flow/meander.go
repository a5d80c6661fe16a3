package flow

import (
	"math"
	"math/rand/v2"

	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A Meander winds over the surfaces of the room like a slow river, nowhere gathering and nowhere
// running dry: on each face it is without divergence. What runs over a corner on one face comes
// out of it on the next with the same speed.
//
// It is the curl on the surface of one smooth noise that fills the room, ∇ψ × n for a surface that
// faces n. The noise ψ is a sum of sine waves in directions spread over the sphere, as
// R. H. Kraichnan made turbulence (Diffusion by a random velocity field, Physics of Fluids 13
// (1970) 22-31), so it favours no direction and its slopes are exact.
type Meander struct {
	waves []wave
}

// wave is one sine wave of the noise, whose slope is slope × cos(number · place + phase).
type wave struct {
	slope  space.Vec // where it is steepest
	number space.Vec // radians per mm
	phase  float64
}

// waves is how many make a meander: fewer repeat themselves to the eye.
const waves = 24

// NewMeander returns the meander that the seed gives, whose bends follow one another at about size
// mm. Its length is strength as the root of the mean square over the directions a face can look.
func NewMeander(size float64, seed uint64, strength float64) Meander {
	rng := rand.New(rand.NewPCG(seed, waves))
	turn := 2 * math.Pi * rng.Float64()
	spin := rng.Perm(waves)
	m := Meander{make([]wave, waves)}
	for i := range m.waves {
		// Points of a spiral from pole to equator, about equally far apart: a wave is the same both ways.
		rise := (float64(i) + rng.Float64()) / waves
		sin, cos := math.Sincos(turn + float64(float64(i)*golden))
		level := math.Sqrt(1 - float64(rise*rise))
		way := space.Vec{X: float64(level * cos), Y: float64(level * sin), Z: rise}
		length := size * (0.75 + 0.5*(float64(spin[i])+0.5)/waves)
		m.waves[i] = wave{
			slope:  way.Scale(strength * math.Sqrt(3.0/waves)),
			number: way.Scale(2 * math.Pi / length),
			phase:  2 * math.Pi * rng.Float64(),
		}
	}
	return m
}

// golden is the angle by which a spiral turns from each point to the next for them to spread evenly.
const golden = math.Pi * (3 - 2.2360679774997896964) // the root of 5

// At implements Current.
func (c Meander) At(f space.Frame, p plane.Point) plane.Point {
	at := f.At(p)
	var slope space.Vec
	for _, w := range c.waves {
		slope = slope.Add(w.slope.Scale(math.Cos(w.number.Dot(at) + w.phase)))
	}
	down := f.Flatten(slope)
	return plane.Point{X: down.Y, Y: -down.X}
}
