package template

import "fmt"

// sizeWords says how long the wall is in the plan, and what to do where it is not; nothing of a side of
// something, nor of a ceiling.
func (k *keyPage) sizeWords() string {
	v := k.first()
	if _, upright := v.Datum(); !upright || !v.IsWall() || len(k.faces) > 1 {
		return ""
	}
	little, much := v.Tolerances()
	left := k.print.End("left")
	return fmt.Sprintf("Measure the wall from end to end: %s. Where it is out by more than %s, count all sheets from %s and none from the other; where by more than %s, ask whoever made the plan before a hole is drilled.",
		v.Length(v.Bounds.Width()), v.Length(little), left, v.Length(much))
}
