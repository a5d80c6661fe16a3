package client

import (
	"slices"
	"strings"

	"wallshoal/export/caution"
	"wallshoal/export/holemap"
)

// A Caution is one usual caution in the client's words, with every wall that it speaks of.
type Caution struct {
	Code     string
	Severity string // as in package caution
	Says     string
	Walls    []Where
	By       string // the role of who decided about it; empty where nobody has
	Reason   string
}

// Where is how much on one wall a caution speaks of.
type Where struct {
	Wall          string
	Pieces, Holes int
}

// Decision says who decided about the caution and why; nothing where nobody has.
func (c Caution) Decision() string {
	if c.By == "" {
		return ""
	}
	return "by the " + c.By + ": " + strings.TrimRight(c.Reason, ". ") + "."
}

// Standing is how all of it stands.
const Standing = "These are usual cautions, not clearance: local codes and licensed trades decide. A wall without a caution was not found safe."

// cautions gathers what is said alike, in the order in which it was found.
func cautions(w holemap.Work) []Caution {
	var out []Caution
	for _, c := range w.Map.Cautions {
		one := Caution{Code: c.Code, Severity: c.Severity, Says: say(c)}
		if a := c.Acknowledged; a != nil {
			one.By, one.Reason = a.By, a.Reason
		}
		at := slices.IndexFunc(out, func(o Caution) bool {
			return o.Code == one.Code && o.Severity == one.Severity && o.Says == one.Says && o.By == one.By && o.Reason == one.Reason
		})
		if at < 0 {
			at = len(out)
			out = append(out, one)
		}
		if !slices.ContainsFunc(out[at].Walls, func(x Where) bool { return x.Wall == c.Wall }) {
			out[at].Walls = append(out[at].Walls, spoken(w, c))
		}
	}
	return out
}

// spoken counts the pieces and holes on the wall of c that cautions with its code speak of, each once.
func spoken(w holemap.Work, c caution.Caution) Where {
	out := Where{Wall: c.Wall, Pieces: c.Pieces, Holes: c.Holes}
	if c.Face == "" {
		return out
	}
	pieces := map[int]bool{}
	out.Pieces, out.Holes = 0, 0
	for _, h := range w.Map.Holes {
		if w.Site.Room.Walls[w.Site.Faces[h.Face].Wall].Name == c.Wall && slices.Contains(h.Cautions, c.Code) {
			out.Holes++
			pieces[h.Piece] = true
		}
	}
	out.Pieces = len(pieces)
	return out
}

// say puts a caution into the client's words. What the plan itself marks has only its own.
func say(c caution.Caution) string {
	if words, known := plainWords()[c.Code]; known {
		return words
	}
	text := strings.TrimSpace(strings.TrimSuffix(c.Text, caution.Standing))
	if a := c.Acknowledged; a != nil {
		_, after, found := strings.Cut(text, a.Reason)
		if found {
			text = strings.TrimSpace(strings.TrimPrefix(after, "."))
		}
	}
	return text
}

// plainWords returns each caution as whoever runs a building says it, by its code.
func plainWords() map[string]string {
	return map[string]string{
		"anchor-edge":       "Some holes are near the edge of brick, block or concrete, where it can break out. The maker checks the fixing's packet first.",
		"anchor-spacing":    "Some holes are near one another, so each fixing carries less. The maker checks the fixing's packet.",
		"behind":            "What lies behind this wall matters for the holes. Please tell us what runs in it and hangs there, and let us see the other side.",
		"board-only":        "Some holes go into board alone, beside the studs. They take fixings made for hollow board.",
		"cable-band":        "Some holes are where cables are often run. Please have them traced before the first hole.",
		"cable-run":         "A known cable runs here. No hole may go near it.",
		"combustible-share": "Pieces that burn cover more of a wall than the usual limit. Please ask who decides on fire safety which limit holds here.",
		"comes-through":     "Some holes may come out on the other side, or meet what is fixed there.",
		"crowded":           "Some pieces hang closer together than the plan asks for.",
		"deep-hole":         "Some holes go deeper than cables are usually laid. Please have the wall traced.",
		"deep-in-board":     "Some holes in board walls are deep enough to reach cables in the hollow behind. Please have them traced.",
		"detector-air":      "Pieces hang near a smoke or heat detector, which must get air freely. Please ask whoever looks after it.",
		"far-side":          "Something on the other side of a thin wall may be met by a hole here. Please show us what hangs there and what it is fixed with.",
		"fire-opening":      "Nothing that burns may hang so near the fireplace opening.",
		"fire-slope":        "Pieces that burn stand out near a fireplace opening. Please ask who decides on fire safety.",
		"fire-step":         "Pieces that burn hang over a fireplace opening. Please ask who decides on fire safety.",
		"fixing-load":       "Some fixings carry more than their packet allows with a margin. The maker must use others or hang less on them.",
		"glass":             "Glass can shatter when it is drilled, and some kinds cannot be drilled at all. Please have a glazier say what it is.",
		"headroom":          "Pieces hang low over where people walk. Please say whether anybody can knock against them.",
		"heat":              "Pieces that burn hang near something hot. Please find out how warm the wall gets there.",
		"height":            "Some holes are drilled from a ladder or a low platform. Please say where one can stand, and keep people away below.",
		"hidden-services":   "Cables and pipes can lie anywhere behind a wall. Please give us any drawings, and have circuits switched off and proved dead.",
		"hole-edge":         "Some holes are nearer to an edge than the plan allows.",
		"in-joint":          "Some holes go into mortar, which can be soft. One is tried first.",
		"in-stud":           "Some holes go into the studs, where cables can run. The maker stops where the bit meets steel.",
		"in-tile":           "Some holes go through tiles, which can crack, and let water in behind. They are drilled without hammer and sealed.",
		"keep-visible":      "Pieces hang near something that must stay in plain view and within reach, like an exit sign or a call point. Please ask who answers for it.",
		"low-piece":         "Pieces hang where children, feet and brooms get at them. Please say who uses the room.",
		"mineral-dust":      "Drilling here makes fine dust that harms the lungs. It is collected at the drill; please keep people and open food away.",
		"not-free":          "Some pieces reach into a margin, or into the clearance of something on the wall.",
		"off-face":          "A hole falls beyond the edge of the wall. It cannot be drilled; the piece must be moved.",
		"off-structure":     "A hole falls where the plan says that the wall cannot take one. The piece must be moved.",
		"old-finishes":      "Old paint can hold lead, and old plaster, boards and coatings can hold asbestos. Please give us the age of the finish and the asbestos register or a survey before any hole.",
		"on-obstruction":    "A hole falls on something that stands on the wall. The piece must be moved.",
		"overhead":          "Some holes are drilled overhead. Please keep everybody out from under.",
		"overlap":           "Some pieces cover others more than the plan asks for.",
		"panel-space":       "Pieces hang in the working space before an electrical panel, which must stay clear. Please ask who looks after it.",
		"pipe-run":          "A known pipe runs here. No hole may go near it.",
		"platform":          "Some holes are so high that they take a platform or a tower. Please say whether one can be brought in, and keep people away below.",
		"route-projection":  "Pieces stand out beside a way that people walk. Please ask who decides on access and escape.",
		"sharp-piece":       "Pieces with sharp edges hang where people pass or children reach. Please ask whoever answers for the room.",
		"sprinkler-space":   "Pieces hang near a sprinkler. Please ask whoever looks after the system.",
		"weight":            "Every fixing has to carry its share of the weight in this very wall. The maker tries one before hanging the rest.",
	}
}
