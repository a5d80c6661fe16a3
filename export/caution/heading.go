package caution

import (
	"maps"
	"slices"
	"strings"
)

// about returns in a few words what a caution is about. Of a zone that the plan itself marks it has the name.
func about(s subject, t tally) string {
	if s.code == MarkedCode {
		names := slices.DeleteFunc(slices.Sorted(maps.Keys(t.names)), func(name string) bool { return name == "" })
		if len(names) > 0 {
			return Heading(s.code) + ": " + list(names)
		}
	}
	return Heading(s.code)
}

// Heading returns what the cautions with a code are about, in a few plain words about a piece or a wall; the code
// itself, with spaces, where it is none of Codes.
func Heading(code string) string {
	if words, known := headings()[code]; known {
		return words
	}
	return strings.ReplaceAll(code, "-", " ")
}

func headings() map[string]string {
	return map[string]string{
		"anchor-edge":       "an anchor near an edge",
		"anchor-spacing":    "anchors near one another",
		"behind":            "what lies behind the wall",
		"board-only":        "into board alone",
		"cable-band":        "where cables are often run",
		"cable-run":         "on a known cable",
		"combustible-share": "pieces that burn cover too much",
		"comes-through":     "a hole may come out behind",
		"crowded":           "too near another piece",
		"deep-hole":         "deep enough to reach cables",
		"deep-in-board":     "deep enough to reach cables",
		"detector-air":      "near a detector",
		"far-side":          "something on the other side",
		"fire-opening":      "too near a fireplace",
		"fire-slope":        "stands out by a fireplace",
		"fire-step":         "over a fireplace",
		"fixing-load":       "too heavy for its fixing",
		"glass":             "into glass",
		"headroom":          "where heads can knock",
		"heat":              "near something hot",
		"height":            "drilled from a ladder",
		"hidden-services":   "hidden cables and pipes",
		"hole-edge":         "a hole near an edge",
		"in-joint":          "into mortar",
		"in-stud":           "into a stud or joist",
		"in-tile":           "through a tile",
		"keep-visible":      "near what must stay in view",
		"low-piece":         "low, within reach of children",
		MarkedCode:          "marked in the plan",
		"mineral-dust":      "dust that harms the lungs",
		"not-free":          "in a margin or a clearance",
		"off-face":          "a hole beyond the wall's edge",
		"off-structure":     "a hole where the plan wants none",
		"old-finishes":      "lead or asbestos in old finishes",
		"on-obstruction":    "a hole on what is on the wall",
		"overhead":          "drilled overhead",
		CodeOverlap:         "overlaps another piece",
		"panel-space":       "before an electrical panel",
		"pipe-run":          "on a known pipe",
		"platform":          "drilled from a platform",
		"route-projection":  "stands out into a way",
		"sharp-piece":       "sharp, within reach",
		"sprinkler-space":   "near a sprinkler",
		"weight":            "weight on each fixing",
	}
}
