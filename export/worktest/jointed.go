package worktest

import (
	"sync"
	"testing"

	"wallshoal/export/drafting"
	"wallshoal/export/draw"
	"wallshoal/export/holemap"
	"wallshoal/export/template"
	"wallshoal/export/tiling"
)

// Jointed are works with joints of every sort, and the paper that they are printed on.
func Jointed(t testing.TB) map[string]joined {
	t.Helper()
	joinOnce.Do(func() {
		roll := tiling.Print{Paper: drafting.Roll(914), Overlap: 12, Margin: 6}
		joinedWorks = map[string]joined{}
		for name, of := range map[string]struct {
			holemap.Work
			tiling.Print
		}{
			"ferry on A4":         {Ferry(t), Auto(Print("A4"))},
			"stair on Letter":     {stair(t, 210), Auto(Print("Letter"))},
			"stair on a roll":     {stair(t, 260), roll},
			"sides of things, A4": {DeepFerry(t), Auto(Print("A4"))},
			"sides on a roll":     {DeepFerry(t), roll},
		} {
			cut := CutUp(t, of.Work, of.Print)
			joinedWorks[name] = joined{of.Work, cut, Recorded(t, func(c draw.Canvas) error { return template.HoleMap(c, cut) })}
		}
	})
	return joinedWorks
}

// A joined work is cut and drawn once for all who look at its joints.
type joined struct {
	holemap.Work
	tiling.Cut
	Hung *draw.Record
}

var joinOnce sync.Once

var joinedWorks map[string]joined
