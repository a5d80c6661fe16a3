// Package makinggood counts what is to be done to walls once a work is taken down: holes to fill, paint
// to touch up or to do again, and what can be used again.
package makinggood

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"

	"wallshoal/export/holemap"
	"wallshoal/wall"
	"wallshoal/wall/measure"
	"wallshoal/wall/plane"
)

// Settings are the figures that a person chooses; they are estimates (common practice).
type Settings struct {
	Waste   float64 // filler that is wasted, as a share of what the holes hold
	TouchUp float64 // diameter of the circle of paint over a hole, mm

	Earlier []holemap.Hole // drilled by earlier layouts, of pieces that hung elsewhere: to be filled as well
}

// Usual returns a waste of 25 % and circles of 40 mm.
func Usual() Settings { return Settings{Waste: 0.25, TouchUp: 40} }

// UsualIn returns the usual settings as people who measure in the unit choose them: circles of 1 1/2 in
// where that is inches or feet.
func UsualIn(units measure.Unit) Settings {
	s := Usual()
	if units.Imperial() {
		s.TouchUp = 1.5 * 25.4
	}
	return s
}

// A List is what making good takes. Volumes are cm³ to 0.01 and areas m² to 0.0001.
type List struct {
	Title       string    `json:"title"`
	Fingerprint string    `json:"fingerprint"`
	Waste       float64   `json:"waste"`
	TouchUp     float64   `json:"touch_up_mm"`
	Faces       []Face    `json:"faces"` // those with holes, in the order of the site
	Holes       int       `json:"holes"`
	Earlier     int       `json:"earlier_holes"` // of them, those of pieces that hung elsewhere before
	Filler      float64   `json:"filler_cm3"`    // with the waste
	Touched     float64   `json:"touched_m2"`
	Repainted   float64   `json:"repainted_m2"`
	Fixings     []Counted `json:"fixings"` // to take out, by name
	Pieces      []Piece   `json:"pieces"`  // that can hang again, in the order of the plan
	Cautions    []Caution `json:"cautions"`

	Units measure.Unit `json:"-"` // in which people are told
}

// A Face is one face with holes.
type Face struct {
	Wall      string  `json:"wall"`
	Face      string  `json:"face"`
	Surface   string  `json:"surface"`
	Ways      []Way   `json:"ways"` // by diameter, then depth
	Holes     int     `json:"holes"`
	Filler    float64 `json:"filler_cm3"`   // with the waste
	Touched   float64 `json:"touched_m2"`   // the sum of the circles, of which some may lie over others
	Repainted float64 `json:"repainted_m2"` // what can be seen of the face, less what stands on it
}

// A Way is the holes of one diameter and depth.
type Way struct {
	Bit    float64 `json:"bit_mm"`
	Depth  float64 `json:"depth_mm"`
	Holes  int     `json:"holes"`
	Volume float64 `json:"volume_cm3"` // of the cylinders, without the waste
}

// Counted is how many there are of something.
type Counted struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
}

// A Piece is how many of one kind there are.
type Piece struct {
	Code   string `json:"code"`
	Name   string `json:"name"`
	Pieces int    `json:"pieces"`
}

// A Caution is a usual one, with its source.
type Caution struct {
	Text   string `json:"text"`
	Source string `json:"source"`
}

// Of counts the work. It fails where the settings cannot be, or a face cannot be measured.
func Of(w holemap.Work, s Settings) (List, error) {
	switch {
	case !(s.Waste >= 0 && s.Waste <= 5):
		return List{}, fmt.Errorf("a waste of %g is no share; give one from 0 to 5", s.Waste)
	case !(s.TouchUp >= 0 && s.TouchUp <= 1000):
		return List{}, fmt.Errorf("a circle of %g mm cannot be touched up; give a diameter from 0 to 1000 mm", s.TouchUp)
	}
	l := List{Units: w.Units, Title: w.Title, Fingerprint: w.Map.Fingerprint, Earlier: len(s.Earlier), Waste: s.Waste, TouchUp: s.TouchUp, Fixings: []Counted{}, Faces: []Face{}, Cautions: cautions()}
	for i := range w.Site.Faces {
		f, err := faceOf(w, i, s)
		if err != nil {
			return List{}, err
		}
		if f.Holes > 0 {
			l.Faces = append(l.Faces, f)
			l.Holes += f.Holes
			l.Filler += f.Filler
			l.Touched += f.Touched
			l.Repainted += f.Repainted
		}
	}
	l.Filler, l.Touched, l.Repainted = round(l.Filler, 100), round(l.Touched, 1e4), round(l.Repainted, 1e4)
	fixings := map[string]int{}
	for _, h := range w.Map.Holes {
		fixings[h.Fixing]++
	}
	for name, n := range fixings {
		l.Fixings = append(l.Fixings, Counted{name, n})
	}
	slices.SortFunc(l.Fixings, func(a, b Counted) int { return cmp.Compare(a.Name, b.Name) })
	l.Pieces = make([]Piece, len(w.Kinds))
	for i, k := range w.Kinds {
		l.Pieces[i] = Piece{Code: k.Code, Name: k.Name}
	}
	for _, p := range w.Layout.Pieces {
		l.Pieces[p.Kind].Pieces++
	}
	return l, nil
}

func faceOf(w holemap.Work, i int, s Settings) (Face, error) {
	face := w.Site.Faces[i]
	of := w.Site.Room.Walls[face.Wall]
	f := Face{Wall: of.Name, Face: face.Name, Surface: string(of.Surface)}
	count := map[[2]float64]int{}
	circles, volume := 0.0, 0.0
	for _, h := range slices.Concat(w.Map.Holes, s.Earlier) {
		if h.Face == i {
			count[[2]float64{h.Bit, h.Depth}]++
			f.Holes++
			circles += disc(math.Max(s.TouchUp, h.Bit))
		}
	}
	if f.Holes == 0 {
		return f, nil
	}
	for way, n := range count {
		f.Ways = append(f.Ways, Way{way[0], way[1], n, round(disc(way[0])*way[1]*float64(n)/1000, 100)})
	}
	slices.SortFunc(f.Ways, func(a, b Way) int { return cmp.Or(cmp.Compare(a.Bit, b.Bit), cmp.Compare(a.Depth, b.Depth)) })
	for _, way := range f.Ways {
		volume += disc(way.Bit) * way.Depth * float64(way.Holes) / 1000
	}
	f.Filler, f.Touched = round(volume*(1+s.Waste), 100), round(circles/1e6, 1e4)
	var bare []plane.Region
	for _, o := range w.Site.On(i) {
		if o.Kind != wall.Cable && o.Kind != wall.Pipe {
			bare = append(bare, plane.RegionOf(o.Shape))
		}
	}
	painted, err := face.Outline.Difference(bare...)
	if err != nil {
		return f, fmt.Errorf("%s cannot be measured: %w", w.Site.Title(i), err)
	}
	f.Repainted = round(painted.Area()/1e6, 1e4)
	return f, nil
}

// disc returns the area of a disc.
func disc(diameter float64) float64 { return math.Pi / 4 * diameter * diameter }

func round(v, steps float64) float64 { return math.Round(v*steps)/steps + 0 }

// Standing is what holds of every caution.
const Standing = "Each of these is a usual caution, not clearance: local codes and licensed trades decide."

func cautions() []Caution {
	return []Caution{
		{"Old paint can hold lead. Find out before any sanding; keep children away, and wet it down instead of sanding dry.", "40 CFR 745.83 and EPA FQ 23002-14867 (small holes in plaster disturb its paint)"},
		{"Textured coatings and insulating board can hold asbestos. Ask for the register or a survey before you scrape, sand or drill out a plug.", "HSE L143, 2nd edition; HSE task sheets A1 and A26"},
		{"Use a ladder or a platform meant for the height, with somebody at its foot; never stand on the top or the top step of a step ladder.", "29 CFR 1926.1053(b)(13)"},
		{"Sanding filler and mortar makes dust that harms the lungs: sand wet or with a vacuum cleaner, and do not sweep it dry.", "common practice; 29 CFR 1926.1153 for mineral dust"},
	}
}

// WriteJSON writes l as one JSON object, and returns the first error.
func WriteJSON(w io.Writer, l List) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(l)
}
