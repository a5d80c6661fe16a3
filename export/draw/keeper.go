package draw

import (
	"bytes"
	"fmt"
	"image/jpeg"
	"math"
	"slices"

	"wallshoal/wall/plane"
)

// A keeper keeps what every kind of canvas must: the first fault, the characters that became
// boxes, and which groups and clips stand open.
type keeper struct {
	fault    error
	paged    bool
	open     []string // "group" or "clip", innermost last
	lost     map[rune]bool
	warnings []string
}

// fail keeps the first fault.
func (k *keeper) fail(format string, args ...any) {
	if k.fault == nil {
		k.fault = fmt.Errorf(format, args...)
	}
}

// turn says whether a page of this size may start.
func (k *keeper) turn(width, height float64) bool {
	switch {
	case k.fault != nil:
		return false
	case len(k.open) > 0:
		k.fail("a page starts while a %s is open", k.open[len(k.open)-1])
	case !(width > 0 && height > 0) || math.IsInf(width, 0) || math.IsInf(height, 0):
		k.fail("a page of %g × %g mm cannot be drawn", width, height)
	default:
		k.paged = true
	}
	return k.fault == nil
}

// ready says whether a mark made of these numbers may be drawn.
func (k *keeper) ready(numbers ...float64) bool {
	if k.fault != nil {
		return false
	}
	if !k.paged {
		k.fail("a mark before the first page")
	}
	for _, n := range numbers {
		if math.IsNaN(n) || math.IsInf(n, 0) {
			k.fail("a mark at a place that is not a number")
		}
	}
	return k.fault == nil
}

// readyAt says whether a mark through the points may be drawn.
func (k *keeper) readyAt(points []plane.Point, numbers ...float64) bool {
	for _, p := range points {
		if !k.ready(p.X, p.Y) {
			return false
		}
	}
	return k.ready(numbers...)
}

// readyImage says whether a picture may be drawn.
func (k *keeper) readyImage(area plane.Rect, data []byte) bool {
	if !k.ready(area.Min.X, area.Min.Y, area.Max.X, area.Max.Y) {
		return false
	}
	if _, err := jpeg.DecodeConfig(bytes.NewReader(data)); err != nil {
		k.fail("a picture is no JPEG: %w", err)
	}
	return k.fault == nil && area.Width() > 0 && area.Height() > 0
}

// shapes returns the rings that have an area to draw, and whether all may be drawn.
func (k *keeper) shapes(rings []plane.Ring) ([]plane.Ring, bool) {
	var whole []plane.Ring
	for _, r := range rings {
		if !k.readyAt(r) {
			return nil, false
		}
		if len(r) > 2 {
			whole = append(whole, r)
		}
	}
	return whole, k.ready()
}

// enter notes that a group or a clip opens, and says whether it may.
func (k *keeper) enter(what string) bool {
	if !k.ready() {
		return false
	}
	k.open = append(k.open, what)
	return true
}

// leave notes that a group or a clip closes, and says whether it may.
func (k *keeper) leave(what string) bool {
	if !k.ready() {
		return false
	}
	last := len(k.open) - 1
	if last < 0 || k.open[last] != what {
		k.fail("a %s ends that did not begin", what)
		return false
	}
	k.open = k.open[:last]
	return true
}

// close notes that the document ends.
func (k *keeper) close() {
	if k.fault != nil {
		return
	}
	if !k.paged {
		k.fail("a document without a page")
	} else if len(k.open) > 0 {
		k.fail("the document ends while a %s is open", k.open[len(k.open)-1])
	}
}

// clean returns s as it can be printed, and keeps a warning for each character that cannot.
func (k *keeper) clean(s string) string {
	out, lost := Clean(s)
	for _, r := range lost {
		if k.lost[r] {
			continue
		}
		if k.lost == nil {
			k.lost = map[rune]bool{}
		}
		k.lost[r] = true
		k.warnings = append(k.warnings, lack(r, s))
	}
	return out
}

// Warnings returns one line for each character that was asked for and printed as a box, in the
// order in which they came up.
func (k *keeper) Warnings() []string { return slices.Clone(k.warnings) }
