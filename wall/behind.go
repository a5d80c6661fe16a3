package wall

import (
	"fmt"
	"slices"
	"strings"
)

// Behind is what lies on the other side of a wall that is joined to others, or above a ceiling, as
// far as drilling is concerned. It is empty where the plan does not say.
type Behind string

// What a plan can say that lies behind a wall.
const (
	BehindRoom    Behind = "room"
	BehindOutside Behind = "outside"
	BehindWet     Behind = "wet room"
	BehindPlant   Behind = "plant room"
	BehindUnknown Behind = "unknown" // somebody asked, and nobody knows
)

// FarSideCode is the code of zones round what is on the other side of a thin wall.
const FarSideCode = "far-side"

// Behinds returns everything that a plan can say to lie behind a wall, in alphabetical order.
func Behinds() []Behind {
	return []Behind{BehindOutside, BehindPlant, BehindRoom, BehindUnknown, BehindWet}
}

// Through returns how thick the wall is between its two sides, in mm; 0 where that is not known.
func (w Wall) Through() float64 {
	if w.Alone != nil {
		return w.Alone.Thickness
	}
	return w.Thickness
}

// Thin reports whether the wall is known to be so thin that what is on its other side counts on this
// one too.
func (w Wall) Thin(r Rules) bool {
	mm := w.Through()
	return mm > 0 && mm <= r.OrUsual().FarSide
}

// wired returns the kinds of things that a cable in the wall leads to: accessories, points and
// switchgear, as BS 7671:2018 regulation 522.6.202(i) has it.
func wired() []ObstructionKind {
	return []ObstructionKind{Switch, Socket, Panel, Lamp, ExitSign, Alarm, CallPoint, Detector}
}

// farSide finds what to be careful of for what is known to be on the other side of a wall that is
// thin, or of which nobody has said how thick it is.
func farSide(s scene) ([]Zone, error) {
	if s.wall.Through() > s.rules.FarSide {
		return nil, nil
	}
	var zones []Zone
	for _, o := range s.wall.FarSide {
		if slices.Contains(wired(), o.Kind) && !s.wall.Ceiling {
			shape, err := s.bands(o)
			if err != nil {
				return nil, err
			}
			band := throughBand(shape)
			band.Name = o.Name
			zones = append(zones, band)
		}
		shape, err := o.grown(o.Clearance)
		if err != nil {
			return nil, err
		}
		zones = append(zones, Zone{
			Code: FarSideCode, Name: o.Name, Strength: Caution, Binds: Holes, Shape: shape,
			Reason: "something is on the other side of this thin wall: a hole may meet it, or what it is fixed with",
			Source: "the plan; how far to keep off is common practice",
		})
	}
	return zones, nil
}

// beyond complains of what cannot be behind a wall.
func (c *checker) beyond(field string, w Wall, sound bool) {
	c.within(field+".thickness", w.Thickness, 0, MaxDepth)
	if w.Behind != "" && !slices.Contains(Behinds(), w.Behind) {
		c.add(field+".behind", fmt.Sprintf("%q is nothing that lies behind a wall", w.Behind), "write one of "+behindNames())
	}
	if w.Alone != nil && (w.Behind != "" || len(w.FarSide) > 0 || w.Thickness != 0) {
		c.add(field+".stands", "behind a wall that stands alone lies the room itself", "give its thickness where it says how it stands, and say nothing of what lies behind")
	}
	if len(w.FarSide) > MaxObstructions {
		c.add(field+".far-side", fmt.Sprintf("there are %d things on the other side", len(w.FarSide)), fmt.Sprintf("give at most %d", MaxObstructions))
		return
	}
	for i, o := range w.FarSide {
		c.obstruction(fmt.Sprintf("%s.far-side[%d]", field, i), o, w.Outline, sound)
	}
}

func behindNames() string {
	var names []string
	for _, b := range Behinds() {
		names = append(names, string(b))
	}
	return strings.Join(names, ", ")
}
