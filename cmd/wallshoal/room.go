package main

import (
	"fmt"
	"strconv"
	"text/tabwriter"

	"wallshoal/cmd/wallshoal/job"
	"wallshoal/scatter"
)

// What the numbers of tellRoom mean.
const roomNote = "The first number is as good as sure to fit, thrown by chance. More may, but never more than " +
	"the second: that is a bound of geometry, which no work comes near. "

const facesNote = "Each face counts by itself, with the kinds as they come to lie; the whole room with the " +
	"kinds in the numbers asked, so that it may hold less than all its faces together."

// tellRoom says how many pieces each face and the whole room have room for.
func (d desk) tellRoom(p promise) error {
	if len(p.room) == 0 {
		return nil
	}
	c := p.Plan.Composition
	keep := "a gap of " + p.Show(c.Gap)
	if c.Overlap > 0 {
		keep = fmt.Sprintf("an overlap of %g %%", 100*c.Overlap)
	}
	fmt.Fprintf(d.out, "room for pieces with a spacing of %s and %s:\n", p.Show(c.Spacing), keep)
	t := tabwriter.NewWriter(d.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "sure\tbound\t  wall")
	for _, r := range p.room {
		title := faceTitle(p.Job, r.Face)
		switch {
		case r.Face != scatter.WholeRoom && len(p.room) == 2:
			continue // the only face is the room
		case r.Face == scatter.WholeRoom && len(p.room) == 2:
			title = faceTitle(p.Job, p.room[0].Face)
		}
		sure := strconv.Itoa(r.Least)
		if r.More {
			sure = "over " + sure
		}
		fmt.Fprintf(t, "%s\t%d\t  %s\n", sure, r.Most, title)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	note := roomNote
	if len(p.room) > 2 {
		note += facesNote
	}
	_, err := fmt.Fprint(d.out, indented(note))
	return err
}

// faceTitle names a face as the table of areas does.
func faceTitle(j job.Job, face int) string {
	if face == scatter.WholeRoom {
		return "the whole room"
	}
	f := j.Site.Faces[face]
	return j.Site.Room.Walls[f.Wall].Name + ", " + f.Name
}

// A roomJSON is what there is room for, for programs.
type roomJSON struct {
	capacityJSON
	Faces []faceRoomJSON `json:"faces"` // in the order of the site
}

// A faceRoomJSON is what a face has room for by itself.
type faceRoomJSON struct {
	Wall string `json:"wall"`
	Face string `json:"face"`
	capacityJSON
}

// A capacityJSON is one of scatter.FaceCapacity as it is written out.
type capacityJSON struct {
	Least int  `json:"least"` // pieces that are sure to fit
	Most  int  `json:"most"`  // a bound of geometry, which no work comes near
	More  bool `json:"more"`  // counting stopped at the least, and more fit
}

// roomJSON returns what there is room for as programs read it; nil where nobody knows.
func (p promise) roomJSON() *roomJSON {
	if len(p.room) == 0 {
		return nil
	}
	out := &roomJSON{Faces: []faceRoomJSON{}}
	for _, r := range p.room {
		c := capacityJSON{r.Least, r.Most, r.More}
		if r.Face == scatter.WholeRoom {
			out.capacityJSON = c
			continue
		}
		f := p.Site.Faces[r.Face]
		out.Faces = append(out.Faces, faceRoomJSON{p.Site.Room.Walls[f.Wall].Name, f.Name, c})
	}
	return out
}
