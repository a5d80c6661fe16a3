package view

import (
	"path/filepath"

	"wallshoal/cmd/wallshoal/easel"
	"wallshoal/cmd/wallshoal/hanging"
	"wallshoal/cmd/wallshoal/knob"
	"wallshoal/export/holemap"
	"wallshoal/export/number"
	"wallshoal/export/screen"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/wall"
	"wallshoal/wall/plane"
)

// A state is what the page shows beside the pictures.
type state struct {
	Run         string      `json:"run"` // of the program: another whenever it is started anew
	Revision    int         `json:"revision"`
	Title       string      `json:"title"`
	File        string      `json:"file"`
	LayoutFile  string      `json:"layoutFile"`
	Units       string      `json:"units"`
	Saved       bool        `json:"saved"`
	Unsaved     []string    `json:"unsaved"` // files that do not hold what is shown
	Undo        bool        `json:"undo"`
	Redo        bool        `json:"redo"`
	Outside     string      `json:"outside"`
	OutsideFile string      `json:"outsideFile"` // what that is of
	Faults      []fault     `json:"faults"`
	Seed        uint64      `json:"seed,string"` // as text: a number of a page is exact up to 2^53 only
	Laid        bool        `json:"laid"`        // just as the plan comes to it round what is locked; nothing was moved since
	PieceCount  int         `json:"pieceCount"`
	HoleCount   int         `json:"holeCount"`
	Fingerprint string      `json:"fingerprint"`
	Faces       []faceState `json:"faces"`
	Kinds       []kindState `json:"kinds"`
	Pieces      []pieceHung `json:"pieces"`
	Flaws       []flawFound `json:"flaws"`
	Knobs       []knobState `json:"knobs"`
	Options     []string    `json:"options"`
	Hanging     hangingTold `json:"hanging"`
}

// A hangingTold is what hangs, in words.
type hangingTold struct {
	Up     int    `json:"up"`     // pieces that hang, wherever that is
	Told   string `json:"told"`   // what becomes of them when the rest is laid anew
	Moved  string `json:"moved"`  // which of them have other holes now, and what that means
	Unread string `json:"unread"` // why nobody knows what hangs
}

func hangingOf(status easel.Status) hangingTold {
	h := hangingTold{Up: status.Hanging.Up}
	switch n := len(status.Hanging.Held); {
	case n == 1:
		h.Told = "1 piece hangs: it stays where it is; the rest is laid anew round it"
	case n > 1:
		h.Told = number.Of(n, "piece") + " hang: they stay where they are; the rest is laid anew round them"
	}
	h.Moved = hanging.Tell(status.Hanging.Moved)
	if status.Unread != nil {
		h.Unread = status.Unread.Error()
	}
	return h
}

type point [2]float64

type faceState struct {
	Index   int        `json:"index"`
	Title   string     `json:"title"`
	Wall    string     `json:"wall"`
	Face    string     `json:"face"`
	Used    bool       `json:"used"`
	Ceiling bool       `json:"ceiling"`
	Upright bool       `json:"upright"`
	Frame   [4]float64 `json:"frame"`
	Outline [][]point  `json:"outline"`
	Things  []thing    `json:"things"`
}

// A thing is what is on a face, as the page names it where the picture does not.
type thing struct {
	Name    string  `json:"name"`
	Outline []point `json:"outline"`
}

type kindState struct {
	Index   int     `json:"index"`
	Code    string  `json:"code"`
	Name    string  `json:"name"`
	Colour  string  `json:"colour"`
	Outline []point `json:"outline"`
	Holes   []point `json:"holes"`
}

type pieceHung struct {
	ID      int     `json:"id"`
	Kind    int     `json:"kind"`
	Face    int     `json:"face"`
	At      point   `json:"at"`
	Heading float64 `json:"heading"`
	Locked  bool    `json:"locked"`
	Up      bool    `json:"up"` // it hangs
}

type flawFound struct {
	Piece int    `json:"piece"`
	Other int    `json:"other"`
	Wrong string `json:"wrong"`
	Back  string `json:"back"` // what is wrong, as it is said of the other
	Fix   string `json:"fix"`
	Hole  bool   `json:"hole"`
}

type knobState struct {
	ID      string   `json:"id"`
	Group   string   `json:"group"`
	Label   string   `json:"label"`
	Type    string   `json:"type"`
	Value   string   `json:"value"`
	Usual   string   `json:"usual"` // what holds where the plan says nothing
	Number  *float64 `json:"number"`
	Min     float64  `json:"min"`
	Max     float64  `json:"max"`
	Step    float64  `json:"step"`
	Unit    string   `json:"unit"`
	Choices []string `json:"choices"`
	Given   bool     `json:"given"`
	Needed  bool     `json:"needed"`
	Help    string   `json:"help"`
	Remark  string   `json:"remark"` // what is to be known of it in the work as it is
	Places  []spot   `json:"places"`
}

type spot struct {
	Face int   `json:"face"`
	At   point `json:"at"`
}

// stateOf returns what is shown as the page reads it.
func (s *server) stateOf(shown *easel.Shown, status easel.Status) state {
	w := shown.Work
	planFile, layoutFile := s.easel.Paths()
	st := state{
		Run: s.run, Revision: shown.Revision, Title: w.Title, File: filepath.Base(planFile), LayoutFile: filepath.Base(layoutFile), Units: string(w.Units),
		Saved: status.Saved, Unsaved: append([]string{}, status.Unsaved...), Undo: status.Undo, Redo: status.Redo, Outside: string(status.Outside), OutsideFile: status.File, Faults: faultsOf(status.Faults),
		Seed: w.Layout.Seed, Laid: shown.Laid, PieceCount: len(w.Layout.Pieces), HoleCount: len(w.Map.Holes), Fingerprint: w.Map.Fingerprint,
		Faces: []faceState{}, Kinds: []kindState{}, Pieces: []pieceHung{}, Flaws: flawsOf(shown.Flaws), Knobs: []knobState{}, Options: []string{},
	}
	for i, f := range w.Site.Faces {
		frame := screen.Frame(w, i)
		st.Faces = append(st.Faces, faceState{
			Index: i, Title: w.Site.Title(i), Wall: w.Site.Room.Walls[f.Wall].Name, Face: f.Name, Used: f.Used,
			Ceiling: w.Site.Room.Walls[f.Wall].Ceiling, Upright: holemap.Upright(f), Frame: [4]float64{frame.Min.X, frame.Min.Y, frame.Max.X, frame.Max.Y}, Outline: outline(f), Things: thingsOn(w.Site, i),
		})
	}
	straight := heading.Bearing(0).Angle()
	for i, k := range w.Kinds {
		ks := kindState{Index: i, Code: k.Code, Name: k.Name, Colour: k.Colour.Hex(), Outline: points(k.Outline.Place(plane.Point{}, straight))}
		for _, h := range k.Holes {
			ks.Holes = append(ks.Holes, points(plane.Ring{h.At}.Place(plane.Point{}, straight))...)
		}
		st.Kinds = append(st.Kinds, ks)
	}
	up := map[int]bool{}
	for _, p := range status.Hanging.Held {
		up[p.ID] = true
	}
	for _, p := range w.Layout.Pieces {
		st.Pieces = append(st.Pieces, pieceHung{p.ID, p.Kind, p.Face, point{p.At.X, p.At.Y}, float64(p.Heading), p.Locked, up[p.ID]})
	}
	for i, f := range st.Flaws {
		if up[f.Piece] {
			st.Flaws[i].Fix = hangsFix
		}
	}
	st.Hanging = hangingOf(status)
	remarks := knob.Remarks(shown.Job, shown.Text, w.Layout, shown.Laid)
	for _, k := range knob.Of(shown.Job, shown.Text) {
		ks := knobOf(k)
		ks.Remark = remarks[k.ID].Text
		st.Knobs = append(st.Knobs, ks)
	}
	for _, o := range shown.Job.Plan.Options {
		st.Options = append(st.Options, o.Name)
	}
	return st
}

// hangsFix is what to do about a piece that hangs where it may not.
const hangsFix = "it hangs there, and stays until it is taken down; or change what the plan says of that place"

func knobOf(k knob.Knob) knobState {
	ks := knobState{
		ID: k.ID, Group: k.Group, Label: k.Label, Type: string(k.Type), Value: k.Value, Usual: k.Usual, Min: k.Min, Max: k.Max, Step: k.Step,
		Unit: k.Unit, Choices: k.Values, Given: k.Given, Needed: k.Needed, Help: k.Help, Places: []spot{},
	}
	if k.Known {
		ks.Number = &k.Number
	}
	for _, p := range k.Spots {
		ks.Places = append(ks.Places, spot{p.Face, point{p.At.X, p.At.Y}})
	}
	return ks
}

func flawsOf(found []scatter.Finding) []flawFound {
	flaws := []flawFound{}
	for _, f := range found {
		flaws = append(flaws, flawFound{f.Piece, f.Other, f.Wrong, f.Of(f.Other).Wrong, f.Fix, f.Flaw == scatter.BadHole})
	}
	return flaws
}

func thingsOn(site wall.Site, face int) []thing {
	things := []thing{}
	for _, o := range site.On(face) {
		things = append(things, thing{o.Name, points(o.Shape)})
	}
	return things
}

func outline(f wall.Face) [][]point {
	rings := [][]point{}
	for _, p := range f.Outline.Polygons() {
		rings = append(rings, points(p.Outer))
		for _, h := range p.Holes {
			rings = append(rings, points(h))
		}
	}
	return rings
}

func points(r plane.Ring) []point {
	ps := make([]point, len(r))
	for i, p := range r {
		ps[i] = point{p.X, p.Y}
	}
	return ps
}
