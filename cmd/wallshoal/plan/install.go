package plan

import (
	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/holemap"
	"wallshoal/export/stand"
	"wallshoal/scatter"
)

// InstallSection is how the work is put up.
//
//	reach:    see ReachSection
//	fixings:  a list, see FixingSection
type InstallSection struct {
	Reach   stand.Reach
	Fixings []holemap.Fixing
}

// FixingSection is how a fixing is put in.
//
//	fixing:  as the holes of pieces name it; needed
//	how:     in plain words, for whoever hangs the work; needed
type FixingSection = holemap.Fixing

// ReachSection is how far whoever puts it up reaches.
//
//	width:   along the wall from one place; 1200 mm if left out
//	height:  above the floor without a ladder; 2000 mm if left out
//	ladder:  above the floor from a step ladder; 3000 mm if left out; what is higher takes a platform
type ReachSection = stand.Reach

// install reads how the work is put up.
func (r *reader) install(v yamlfile.Value, kinds []scatter.Kind) InstallSection {
	usual := stand.UsualReach()
	s := InstallSection{Reach: usual}
	m, ok := v.Map("reach", "fixings")
	if !ok {
		return s
	}
	items, _ := m.Get("fixings").List(maxFixings, "a list of fixings, each starting with a dash")
	for _, item := range items {
		if f, ok := r.howTo(item, kinds, s.Fixings); ok {
			s.Fixings = append(s.Fixings, f)
		}
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

const (
	maxFixings = 100
	maxHow     = 300 // characters
)

// howTo reads how a fixing is put in, which those before it do not say yet.
func (r *reader) howTo(v yamlfile.Value, kinds []scatter.Kind, before []holemap.Fixing) (f holemap.Fixing, ok bool) {
	m, ok := v.Map("fixing", "how")
	if !ok {
		return f, false
	}
	field := m.Get("fixing").Need("name it as the holes do")
	name, named := field.Text(maxFixing)
	if named {
		r.fixingOf(field, name, kinds)
	}
	for _, other := range before {
		if named && other.Name == name {
			field.Fault("there are words for "+yamlfile.Quote(name)+" already", "write all of them in one place")
		}
	}
	how, said := m.Get("how").Need("say how it is put in, and the piece onto it").Text(maxHow)
	return holemap.Fixing{Name: name, How: how}, named && said
}

// fixingOf complains of a fixing that no hole of a piece has.
func (r *reader) fixingOf(field yamlfile.Value, name string, kinds []scatter.Kind) {
	var names []string
	for _, k := range kinds {
		for _, h := range k.Holes {
			if !contains(names, h.Fixing) {
				names = append(names, h.Fixing)
			}
		}
	}
	if !contains(names, name) && !r.file.Faulty("pieces") {
		field.Fault(yamlfile.Quote(name)+" is the fixing of no hole", oneOf(name, "fixings", names))
	}
}
