// Package mixing deals kinds to pieces that stand already, so that equals are where they are wanted.
package mixing

// A Scheme says where pieces of one kind are to be, seen from one another.
type Scheme struct {
	Way  Way
	Size int // pieces in a family, with Families
}

// A Way is how kinds lie among one another.
type Way string

// The ways that a plan can name.
const (
	Scattered Way = "scattered" // equals are seldom neighbours; what is meant where nothing is said
	Drifting  Way = "drifting"  // one kind gives way to the next along the flow
	Families  Way = "families"  // small groups of equals
)
