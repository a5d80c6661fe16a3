// Package scope counts what a work asks of a wall and of the people who make it: pieces, holes,
// fixings, areas and cautions, for programs as JSON and for people as a page of Markdown.
package scope

import (
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"

	"wallshoal/export/caution"
	"wallshoal/export/holemap"
	"wallshoal/scatter"
	"wallshoal/scatter/heading"
	"wallshoal/scatter/quality"
)

// A Scope is the count of a work. Areas are m² to 0.0001, ratios to 0.0001, lengths mm and angles
// degrees to 0.01. A figure that cannot be had, such as the closest distance of a single piece,
// is nil, and null in JSON.
type Scope struct {
	Title       string    `json:"title"`
	Fingerprint string    `json:"fingerprint"`
	Seed        uint64    `json:"seed"`
	Pieces      int       `json:"pieces"`
	Holes       int       `json:"holes"`
	Drilled     []string  `json:"drilled,omitempty"` // "12 MARK WALL": of every piece its number, the mark of its holes and its wall, by number
	Faces       []Face    `json:"faces"`             // those that carry pieces or could, in the order of the site
	Kinds       []Kind    `json:"kinds"`             // in the order of the plan
	Fixings     []Fixing  `json:"fixings"`           // by name
	Cautions    []Caution `json:"cautions"`          // by severity, then by wall and face
	Unmet       []Unmet   `json:"unmet"`             // acknowledgements of cautions that are not there, in the order of the plan
	Burns       []Burns   `json:"burns"`             // of every wall with pieces, in the order of the site
	Spacing     Spacing   `json:"spacing"`
	Heading     Heading   `json:"heading"`
	Lie         *Lie      `json:"lie"`               // null unless it was appraised
	Stands      []Stand   `json:"stands,omitempty"`  // in the order of work; left out unless they were planned
	Sheets      []Sheets  `json:"sheets,omitempty"`  // of the hole map, by face; left out unless it was cut
	Seated      []Seated  `json:"seated"`            // in the order of the pieces; none for a layout that was read
	Making      *Making   `json:"making,omitempty"`  // left out unless it was reckoned
	Options     []Option  `json:"options,omitempty"` // ways of carrying out the plan, this work among them; left out where it has none
}

// A Face counts one face.
type Face struct {
	Wall     string   `json:"wall"`
	Face     string   `json:"face"`
	Pieces   int      `json:"pieces"`
	Holes    int      `json:"holes"`
	Area     float64  `json:"area_m2"`    // what can be seen of the face
	Free     float64  `json:"free_m2"`    // what is free for any piece
	Covered  float64  `json:"covered_m2"` // the sum of the outlines of its pieces
	Coverage *float64 `json:"coverage"`   // covered against area, from 0 to 1
	Hung     []Hung   `json:"hung"`       // pieces of each kind, in the order of the plan
}

// Hung counts the pieces of one kind on a face.
type Hung struct {
	Code   string `json:"code"`
	Pieces int    `json:"pieces"`
}

// A Kind counts the pieces of one kind.
type Kind struct {
	Code   string `json:"code"`
	Name   string `json:"name"`
	Pieces int    `json:"pieces"`
	Holes  int    `json:"holes"`
}

// A Fixing counts one sort of fixing.
type Fixing struct {
	Name  string `json:"name"`
	Count int    `json:"count"`
}

// A Caution is one of caution.Caution as it is written out.
type Caution struct {
	Code     string `json:"code"`
	Severity string `json:"severity"`
	Wall     string `json:"wall"`
	Face     string `json:"face"` // empty where it speaks of the whole wall
	Pieces   int    `json:"pieces"`
	Holes    int    `json:"holes"`
	Text     string `json:"text"`
	Source   string `json:"source"`

	Acknowledged *Acknowledged `json:"acknowledged"` // null where nobody has decided about it
}

// Acknowledged is who decided about a caution, and why.
type Acknowledged struct {
	By     string `json:"by"`
	Reason string `json:"reason"`
}

// Unmet is an acknowledgement of a caution that is not there. The plan has changed since, or it was never
// needed.
type Unmet struct {
	Code   string `json:"code"`
	Wall   string `json:"wall"` // empty where it is for every wall
	By     string `json:"by"`
	Reason string `json:"reason"`
}

// Spacing says how evenly the pieces are spread. Distances are between centres, through the room,
// and the density is that of the pieces on what is free of the faces that are used.
type Spacing struct {
	Closest        *float64 `json:"closest_mm"`
	RelativeRadius *float64 `json:"relative_radius"`
	ClarkEvans     *float64 `json:"clark_evans"`
}

// Heading is the mean of the headings, each as seen square-on to its own face.
type Heading struct {
	Mean      *float64 `json:"mean_deg"` // clockwise from straight up; nil where headings cancel out
	Resultant *float64 `json:"resultant"`
}

// Of counts the work. It fails where the hole map is not that of the layout.
func Of(work holemap.Work) (Scope, error) {
	if err := check(work); err != nil {
		return Scope{}, err
	}
	return Scope{
		Title:       work.Title,
		Fingerprint: work.Map.Fingerprint,
		Seed:        work.Layout.Seed,
		Pieces:      len(work.Layout.Pieces),
		Holes:       len(work.Map.Holes),
		Drilled:     drilled(work),
		Faces:       faces(work),
		Kinds:       kinds(work),
		Fixings:     fixings(work),
		Cautions:    cautions(work.Map.Cautions),
		Unmet:       unmet(work.Map.Unmet),
		Burns:       burns(work.Map.Shares),
		Spacing:     spacing(work),
		Heading:     meanHeading(work.Layout.Pieces),
		Seated:      seated(work),
	}, nil
}

// check makes sure that every piece has the holes in the map that its kind asks for.
func check(work holemap.Work) error {
	drilled := map[int]int{}
	for _, h := range work.Map.Holes {
		drilled[h.Piece]++
	}
	for _, p := range work.Layout.Pieces {
		switch {
		case p.Kind < 0 || p.Kind >= len(work.Kinds):
			return fmt.Errorf("piece %d is of a kind that is not there", p.ID)
		case p.Face < 0 || p.Face >= len(work.Site.Faces):
			return fmt.Errorf("piece %d is on a face that is not there", p.ID)
		case drilled[p.ID] != len(work.Kinds[p.Kind].Holes):
			return fmt.Errorf("the hole map is of another layout: piece %d has %d holes there and asks for %d",
				p.ID, drilled[p.ID], len(work.Kinds[p.Kind].Holes))
		}
		delete(drilled, p.ID)
	}
	if len(drilled) > 0 {
		return fmt.Errorf("the hole map is of another layout: it has holes of %d pieces that are not in this one", len(drilled))
	}
	return nil
}

func faces(work holemap.Work) []Face {
	pieces, holes := make([]int, len(work.Site.Faces)), make([]int, len(work.Site.Faces))
	covered := make([]float64, len(work.Site.Faces))
	hung := make([][]Hung, len(work.Site.Faces))
	for i := range hung {
		hung[i] = make([]Hung, len(work.Kinds))
		for k, kind := range work.Kinds {
			hung[i][k].Code = kind.Code
		}
	}
	for _, p := range work.Layout.Pieces {
		pieces[p.Face]++
		hung[p.Face][p.Kind].Pieces++
		holes[p.Face] += len(work.Kinds[p.Kind].Holes)
		covered[p.Face] += math.Abs(work.Kinds[p.Kind].Outline.Area())
	}
	counted := []Face{}
	for i, f := range work.Site.Faces {
		if !f.Used && pieces[i] == 0 {
			continue
		}
		area := f.Outline.Area()
		counted = append(counted, Face{
			Wall:     work.Site.Room.Walls[f.Wall].Name,
			Face:     f.Name,
			Pieces:   pieces[i],
			Holes:    holes[i],
			Area:     squareMetres(area),
			Free:     squareMetres(f.Free().Area()),
			Covered:  squareMetres(covered[i]),
			Coverage: known(covered[i]/area, 10_000),
			Hung:     hung[i],
		})
	}
	return counted
}

func kinds(work holemap.Work) []Kind {
	counted := make([]Kind, len(work.Kinds))
	for i, k := range work.Kinds {
		counted[i] = Kind{Code: k.Code, Name: k.Name}
	}
	for _, p := range work.Layout.Pieces {
		counted[p.Kind].Pieces++
		counted[p.Kind].Holes += len(work.Kinds[p.Kind].Holes)
	}
	return counted
}

func fixings(work holemap.Work) []Fixing {
	count := map[string]int{}
	for _, h := range work.Map.Holes {
		count[h.Fixing]++
	}
	counted := []Fixing{}
	for _, name := range slices.Sorted(maps.Keys(count)) {
		counted = append(counted, Fixing{name, count[name]})
	}
	return counted
}

func cautions(found []caution.Caution) []Caution {
	written := make([]Caution, len(found))
	for i, c := range found {
		written[i] = Caution{
			Code: c.Code, Severity: c.Severity, Wall: c.Wall, Face: c.Face, Pieces: c.Pieces, Holes: c.Holes,
			Text: c.Text, Source: c.Source,
		}
		if a := c.Acknowledged; a != nil {
			written[i].Acknowledged = &Acknowledged{a.By, a.Reason}
		}
	}
	return written
}

func unmet(all []caution.Acknowledgement) []Unmet {
	written := make([]Unmet, len(all))
	for i, a := range all {
		written[i] = Unmet{a.Code, a.Wall, a.By, a.Reason}
	}
	return written
}

func spacing(work holemap.Work) Spacing {
	pieces := work.Layout.Pieces
	if len(pieces) < 2 {
		return Spacing{}
	}
	places := make([]quality.Place, len(pieces))
	for i, p := range pieces {
		places[i] = quality.Place{Face: p.Face, At: p.At}
	}
	distances := quality.NearestDistances(work.Site, places)
	free := freeArea(work, pieces)
	closest := quality.Closest(distances)
	s := Spacing{Closest: known(closest, 100)}
	if free > 0 {
		s.RelativeRadius = known(quality.RelativeRadius(closest, len(pieces), free), 10_000)
		s.ClarkEvans = known(quality.ClarkEvans(distances, float64(len(pieces))/free), 10_000)
	}
	return s
}

// freeArea returns what is free of the faces that are used or carry pieces, in mm².
func freeArea(work holemap.Work, pieces []scatter.Piece) float64 {
	carries := make([]bool, len(work.Site.Faces))
	for _, p := range pieces {
		carries[p.Face] = true
	}
	var sum float64
	for i, f := range work.Site.Faces {
		if f.Used || carries[i] {
			sum += f.Free().Area()
		}
	}
	return sum
}

func meanHeading(pieces []scatter.Piece) Heading {
	if len(pieces) == 0 {
		return Heading{}
	}
	bearings := make([]heading.Bearing, len(pieces))
	for i, p := range pieces {
		bearings[i] = p.Heading
	}
	mean, resultant, ok := heading.MeanBearing(bearings)
	if !ok {
		return Heading{Resultant: known(0, 1)}
	}
	return Heading{known(float64(mean), 100), known(resultant, 10_000)}
}

func squareMetres(mm2 float64) float64 { return math.Round(mm2/100) / 10_000 }

// known returns v rounded to whole steps of 1/steps, or nil where v is no number.
func known(v, steps float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return new(math.Round(v*steps)/steps + 0)
}

// WriteJSON writes s as one JSON object, and returns the first error.
func WriteJSON(w io.Writer, s Scope) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(s)
}
