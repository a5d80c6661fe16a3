package plan

import (
	"fmt"
	"strings"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/wall"
	"wallshoal/wall/plane"
	"wallshoal/wall/space"
)

// A surface is a wall, or a face of what stands on it, that a current is drawn on.
type surface struct {
	frame   space.Frame
	outline plane.Region // empty where it is not known
	name    string
	from    string // where places on it are measured from
}

// surface reads the wall or ceiling that m names, or the face of it that m names. Where the room has
// faults nobody knows where they are; then it returns false without a word, but still a wall's
// outline.
func (s *stage) surface(m yamlfile.Map, fix string) (surface, bool) {
	i, name, ok := s.wallNamed(m.Get("wall").Need(fix))
	if !ok {
		return surface{}, false
	}
	face := m.Get("face")
	on := surface{name: name, from: "the wall's left end and from the floor"}
	if i < len(s.room.Walls) && !face.Given() {
		if _, bad := wall.CheckRing(s.room.Walls[i].Outline, s.units); !bad {
			on.outline = plane.RegionOf(s.room.Walls[i].Outline)
		}
	}
	if s.file.Faulty("room") {
		return on, false
	}
	site, err := s.site(face.Given())
	if err != nil {
		m.Fault(err.Error(), "correct the room")
		return on, false
	}
	f, ok := site.FaceByName(site.Room.Walls[i].Name, wall.WallFace)
	if face.Given() {
		f, ok = s.faceNamed(face, site, i)
		on.name, on.from = "", "the bottom-left corner of the face"
	}
	if !ok {
		return on, false
	}
	on.frame = site.Faces[f].Frame
	if on.outline.Empty() {
		on.outline = site.Faces[f].Whole // a current can run to what stands there
	}
	if on.name == "" {
		on.name = site.Title(f)
	}
	if i == len(s.room.Walls) && !face.Given() {
		on.from = "the bottom-left corner of the ceiling as it is drawn, seen looking up"
	}
	return on, true
}

// site returns the room's walls and ceiling, with what stands on the walls where that is asked for:
// it does not move them.
func (s *stage) site(whole bool) (wall.Site, error) {
	if site, known := s.sites[whole]; known {
		return site, nil
	}
	room := s.room
	if !whole {
		room.Walls = make([]wall.Wall, len(s.room.Walls))
		for i, w := range s.room.Walls {
			w.Bare, w.Obstructions, w.Marked = true, nil, nil
			room.Walls[i] = w
		}
	}
	site, err := wall.Survey(room)
	if err == nil {
		s.sites[whole] = site
	}
	return site, err
}

// wallNamed returns the index and the name of the wall that v names; the ceiling comes after all
// walls.
func (s *stage) wallNamed(v yamlfile.Value) (int, string, bool) {
	name, ok := v.Text(maxTitle)
	if !ok {
		return 0, "", false
	}
	var names []string
	for _, w := range s.room.Walls {
		names = append(names, w.Name)
	}
	if c := s.room.Ceiling; c != nil {
		names = append(names, c.Name)
	}
	for i, n := range names {
		if wall.FoldName(n) == wall.FoldName(name) {
			return i, n, true
		}
	}
	if len(names) > 0 && !contains(names, "") {
		v.Fault(yamlfile.Quote(name)+" is not the name of a wall", oneOf(name, "walls", names))
	}
	return 0, "", false
}

// faceNamed returns the index of the face that v names of the wall with the index i.
func (s *stage) faceNamed(v yamlfile.Value, site wall.Site, i int) (int, bool) {
	name, ok := v.Text(maxTitle)
	if !ok {
		return 0, false
	}
	var names []string
	for k, f := range site.Faces {
		switch {
		case f.Wall != i:
			continue
		case wall.FoldName(f.Name) == wall.FoldName(name):
			return k, true
		}
		names = append(names, f.Name)
	}
	v.Fault(fmt.Sprintf("%s is not a face of %s", yamlfile.Quote(name), site.Room.Walls[i].Name), oneOf(name, "faces", names))
	return 0, false
}

// oneOf says which of the names to write in place of name.
func oneOf(name, noun string, names []string) string {
	if near := yamlfile.Nearest(name, names); near != "" {
		return "did you mean " + near + "?"
	}
	return "name one of the " + noun + ": " + strings.Join(names, ", ")
}

// lies complains of a point that is not on the surface; where its outline is not known, something
// else has been complained of.
func (s *stage) lies(v yamlfile.Value, at plane.Point, on surface) bool {
	if on.outline.Empty() {
		return true
	}
	if off := -on.outline.Distance(at); off > 0.01 {
		v.Fault(fmt.Sprintf("the point lies %s off %s", s.show(off), on.name), "measure it from "+on.from+", or give a point in the room as room: [x, y, z]")
		return false
	}
	return true
}
