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

// surface reads the wall that m names, or the face of it that m names. Where the room has faults
// nobody knows where they are; then it returns false without a word, but still a wall's outline.
func (s *stage) surface(m yamlfile.Map, fix string) (surface, bool) {
	i, ok := s.wallNamed(m.Get("wall").Need(fix))
	if !ok {
		return surface{}, false
	}
	w, face := s.room.Walls[i], m.Get("face")
	on := surface{name: w.Name, from: "the wall's left end and from the floor"}
	if _, bad := wall.CheckRing(w.Outline, s.units); !bad && !face.Given() {
		on.outline = plane.RegionOf(w.Outline)
	}
	if s.file.Faulty("room") {
		return on, false
	}
	site, err := s.site(face.Given())
	if err != nil {
		m.Fault(err.Error(), "correct the room")
		return on, false
	}
	if !face.Given() {
		f, found := site.FaceByName(w.Name, wall.WallFace)
		if found {
			on.frame = site.Faces[f].Frame
		}
		return on, found
	}
	f, ok := s.faceNamed(face, site, i)
	if !ok {
		return on, false
	}
	return surface{site.Faces[f].Frame, site.Faces[f].Outline, site.Title(f), "the bottom-left corner of the face"}, true
}

// site returns the room's walls, with what stands on them where that is asked for: it does not
// move them.
func (s *stage) site(whole bool) (wall.Site, error) {
	if site, known := s.sites[whole]; known {
		return site, nil
	}
	room := s.room
	if !whole {
		room = wall.Room{Datum: s.room.Datum}
		for _, w := range s.room.Walls {
			room.Walls = append(room.Walls, wall.Wall{Name: w.Name, Turn: w.Turn, Outline: w.Outline, Bare: true})
		}
	}
	site, err := wall.Survey(room)
	if err == nil {
		s.sites[whole] = site
	}
	return site, err
}

// wallNamed returns the index of the wall that v names.
func (s *stage) wallNamed(v yamlfile.Value) (int, bool) {
	name, ok := v.Text(maxTitle)
	if !ok {
		return 0, false
	}
	names := make([]string, len(s.room.Walls))
	for i, w := range s.room.Walls {
		if names[i] = w.Name; wall.FoldName(w.Name) == wall.FoldName(name) {
			return i, true
		}
	}
	if len(names) > 0 && !contains(names, "") {
		v.Fault(yamlfile.Quote(name)+" is not the name of a wall", oneOf(name, "walls", names))
	}
	return 0, false
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
