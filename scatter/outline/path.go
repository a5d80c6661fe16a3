package outline

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"wallshoal/wall/plane"
)

// MaxPathBytes is how long path data may be.
const MaxPathBytes = 1 << 16

// farthest is how far from the origin of its drawing a path may go, in the drawing's unit.
const farthest = 1e6

// ParsePath reads SVG path data: every command of SVG 1.1, absolute and relative. There must be
// one closed contour and nothing else; one that ends where it began is closed even without a Z.
// The y axis of SVG runs down, so it is flipped: what is up on the screen is up here.
func ParsePath(data string) (Path, error) {
	if len(data) > MaxPathBytes {
		return Path{}, fmt.Errorf("the path has %d bytes, more than %d", len(data), MaxPathBytes)
	}
	p := pathParser{data: data}
	for p.next() {
		if err := p.command(); err != nil {
			return Path{}, err
		}
	}
	if p.err != nil {
		return Path{}, p.err
	}
	return p.finish()
}

// A pathParser reads path data in the coordinates of SVG, y down.
type pathParser struct {
	data string
	pos  int
	err  error

	path    Path
	started bool // a move has been made
	closed  bool
	at      plane.Point
	letter  byte        // the command at hand
	control plane.Point // the last control point, for S and T
	curve   byte        // what drew the last segment: C, Q or 0
}

// next steps to the next command, or to further arguments of the one at hand, and reports whether
// there is one.
func (p *pathParser) next() bool {
	p.blanks()
	if p.err != nil || p.pos == len(p.data) {
		return false
	}
	c := p.data[p.pos]
	switch {
	case strings.IndexByte("MmLlHhVvCcSsQqTtAaZz", c) >= 0:
		p.letter = c
		p.pos++
	case p.letter == 0 || p.letter|0x20 == 'z' || strings.IndexByte("+-.0123456789", c) < 0:
		p.fail("is no path command")
		return false
	case p.letter == 'M':
		p.letter = 'L'
	case p.letter == 'm':
		p.letter = 'l'
	}
	return true
}

// fail keeps the first complaint of what stands at the place reached.
func (p *pathParser) fail(what string) {
	if p.err != nil {
		return
	}
	found := "the end of the path"
	if p.pos < len(p.data) {
		found = strconv.QuoteRune([]rune(p.data[p.pos:min(len(p.data), p.pos+4)])[0])
	}
	p.err = fmt.Errorf("character %d of the path, %s, %s", p.pos+1, found, what)
}

// command reads the arguments of the command at hand and draws it.
func (p *pathParser) command() error {
	kind := p.letter &^ 0x20
	if !p.started && kind != 'M' {
		return fmt.Errorf("the path does not begin with M")
	}
	if p.closed {
		return fmt.Errorf("the path has more than one contour")
	}
	if p.started && kind == 'M' && len(p.path.segments) > 0 {
		return fmt.Errorf("the path has more than one contour")
	}
	switch kind {
	case 'M':
		p.at = p.point()
		p.path.start, p.started, p.curve = p.at, true, 0
	case 'Z':
		p.closed = true
	case 'L':
		p.draw(line{p.point()}, 0)
	case 'H':
		p.draw(line{plane.Point{X: p.coordinate(p.at.X), Y: p.at.Y}}, 0)
	case 'V':
		p.draw(line{plane.Point{X: p.at.X, Y: p.coordinate(p.at.Y)}}, 0)
	case 'A':
		p.arc()
	default:
		p.bezier(kind)
	}
	return p.err
}

func (p *pathParser) bezier(kind byte) {
	switch kind {
	case 'C', 'S':
		c1 := p.reflected('C')
		if kind == 'C' {
			c1 = p.point()
		}
		c2 := p.point()
		to := p.point()
		p.control = c2
		p.draw(cubic{c1, c2, to}, 'C')
	case 'Q', 'T':
		c := p.reflected('Q')
		if kind == 'Q' {
			c = p.point()
		}
		to := p.point()
		p.control = c
		p.draw(quadratic(p.at, c, to), 'Q')
	}
}

// reflected returns the last control point mirrored in the place reached, or that place itself
// after anything but a curve of the same sort.
func (p *pathParser) reflected(curve byte) plane.Point {
	if p.curve != curve {
		return p.at
	}
	return p.at.Add(p.at.Sub(p.control))
}

func (p *pathParser) arc() {
	rx, ry, tilt := p.number(), p.number(), p.number()
	long, clockwise := p.flag(), p.flag()
	to := p.point()
	p.curve = 0
	if to != p.at && p.err == nil {
		// With y down, the sweep flag's positive angles look clockwise; as numbers they are
		// counter-clockwise, and so they are here until the path is flipped.
		p.draw(arcTo(p.at, to, rx, ry, math.Mod(tilt, 360)*math.Pi/180, long, clockwise), 0)
	}
}

func (p *pathParser) draw(s segment, curve byte) {
	if p.err != nil {
		return
	}
	p.path.segments = append(p.path.segments, s)
	p.at, p.curve = s.end(), curve
	if len(p.path.segments) > MaxCorners {
		p.err = fmt.Errorf("the path has more than %d lines and curves", MaxCorners)
	}
}

// point reads a pair of coordinates.
func (p *pathParser) point() plane.Point {
	return plane.Point{X: p.coordinate(p.at.X), Y: p.coordinate(p.at.Y)}
}

// coordinate reads a coordinate, which a relative command counts from the given one.
func (p *pathParser) coordinate(from float64) float64 {
	v := p.number()
	if p.letter >= 'a' {
		v += from
	}
	if math.Abs(v) > farthest && p.err == nil {
		p.err = fmt.Errorf("the path goes more than %d from its origin", int(farthest))
	}
	return v
}

// blanks skips white space.
func (p *pathParser) blanks() {
	for p.pos < len(p.data) && strings.IndexByte(" \t\r\n\f", p.data[p.pos]) >= 0 {
		p.pos++
	}
}

// comma skips white space with at most one comma in it.
func (p *pathParser) comma() {
	p.blanks()
	if p.pos < len(p.data) && p.data[p.pos] == ',' {
		p.pos++
		p.blanks()
	}
}

// flag reads a 0 or a 1, which need not be parted from what follows.
func (p *pathParser) flag() bool {
	if p.err == nil && p.pos < len(p.data) && (p.data[p.pos] == '0' || p.data[p.pos] == '1') {
		p.pos++
		set := p.data[p.pos-1] == '1'
		p.comma()
		return set
	}
	p.fail("should be 0 or 1")
	return false
}

// number reads a number and the comma after it.
func (p *pathParser) number() float64 {
	p.blanks()
	end := p.numberEnd()
	v, err := strconv.ParseFloat(p.data[p.pos:end], 64)
	if err != nil || math.Abs(v) > farthest {
		p.fail("should be a number up to 1000000")
		return 0
	}
	p.pos = end
	p.comma()
	return v
}

// numberEnd returns where the number that starts at the place reached ends.
func (p *pathParser) numberEnd() int {
	i := p.pos
	digits := func() {
		for i < len(p.data) && '0' <= p.data[i] && p.data[i] <= '9' {
			i++
		}
	}
	is := func(at int, set string) bool { return at < len(p.data) && strings.IndexByte(set, p.data[at]) >= 0 }
	if is(i, "+-") {
		i++
	}
	digits()
	if is(i, ".") {
		i++
		digits()
	}
	if is(i, "eE") && (is(i+1, "0123456789") || (is(i+1, "+-") && is(i+2, "0123456789"))) {
		i += 2
		digits()
	}
	return i
}

// finish checks that the contour is closed and flips it.
func (p *pathParser) finish() (Path, error) {
	switch {
	case !p.started:
		return Path{}, fmt.Errorf("the path is empty")
	case len(p.path.segments) == 0:
		return Path{}, fmt.Errorf("the path draws nothing")
	case !p.closed && p.at != p.path.start:
		return Path{}, fmt.Errorf("the path is not closed")
	}
	return p.path.flipped(), nil
}

// flipped returns the path with y running the other way.
func (p Path) flipped() Path {
	out := p.mapped(func(q plane.Point) plane.Point { return plane.Point{X: q.X, Y: -q.Y} })
	for i, s := range out.segments {
		if a, ok := s.(arc); ok {
			a.tilt, a.first, a.sweep = -a.tilt, -a.first, -a.sweep
			out.segments[i] = a
		}
	}
	return out
}

// Scale returns the path k times as large, k > 0, seen from its origin.
func (p Path) Scale(k float64) Path {
	out := p.mapped(func(q plane.Point) plane.Point { return q.Scale(k) })
	for i, s := range out.segments {
		if a, ok := s.(arc); ok {
			a.rx, a.ry = a.rx*k, a.ry*k
			out.segments[i] = a
		}
	}
	return out
}

// mapped returns the path with every point moved by f.
func (p Path) mapped(f func(plane.Point) plane.Point) Path {
	out := Path{start: f(p.start), segments: make([]segment, len(p.segments))}
	for i, s := range p.segments {
		switch s := s.(type) {
		case line:
			out.segments[i] = line{f(s.to)}
		case cubic:
			out.segments[i] = cubic{f(s.c1), f(s.c2), f(s.to)}
		case arc:
			s.centre, s.to = f(s.centre), f(s.to)
			out.segments[i] = s
		}
	}
	return out
}
