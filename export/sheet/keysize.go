package sheet

import "fmt"

// sizeWords says how long the wall is in the plan, and what to do where it is not; nothing of a side of
// something, nor of a ceiling.
func (k *keyPage) sizeWords() string {
	v := k.first()
	if _, upright := v.datum(); !upright || !v.isWall() || len(k.faces) > 1 {
		return ""
	}
	little, much := v.tolerances()
	left := k.print.end("left")
	return fmt.Sprintf("Measure the wall from end to end: %s. Where it is out by more than %s, count all sheets from %s and none from the other; where by more than %s, ask whoever made the plan before a hole is drilled.",
		v.length(v.bounds.Width()), v.length(little), left, v.length(much))
}

// outWords says what to do where a level line is not where it should be.
func (v view) outWords() string {
	little, _ := v.tolerances()
	return fmt.Sprintf("; where it is out by more than %s, measure again, and if it stays out ask whoever made the plan before a hole is drilled", v.length(little))
}

// tolerances returns how far what is built may be off the plan without anything changing for whoever hangs
// the sheets, and from where on pieces may no longer fit, mm: lengths that a tape shows.
func (v view) tolerances() (little, much float64) {
	if v.work.Units.Imperial() {
		return inch / 4, inch
	}
	return 5, 25
}
