package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/stand"
)

// InstallSection is how the work is put up.
//
//	reach:  see ReachSection
type InstallSection struct{ Reach stand.Reach }

// ReachSection is how far whoever puts it up reaches.
//
//	width:   along the wall from one place; 1200 mm if left out
//	height:  above the floor without a ladder; 2000 mm if left out
//	ladder:  above the floor from a step ladder; 3000 mm if left out; what is higher takes a platform
type ReachSection = stand.Reach

// install reads how the work is put up.
func (r *reader) install(v yamlfile.Value) InstallSection {
	usual := stand.UsualReach()
	s := InstallSection{Reach: usual}
	m, ok := v.Map("reach")
	if !ok {
		return s
	}
	reach, ok := m.Get("reach").Map("width", "height", "ladder")
	if !ok {
		return s
	}
	s.Reach.Width = r.length(reach.Get("width"), "a reach", 0, MaxLength, usual.Width)
	s.Reach.Height = r.length(reach.Get("height"), "a reach", 0, MaxLength, usual.Height)
	s.Reach.Ladder = r.length(reach.Get("ladder"), "a reach", 0, MaxLength, max(usual.Ladder, s.Reach.Height))
	r.judge(s.Reach.Problems(r.units))
	return s
}
