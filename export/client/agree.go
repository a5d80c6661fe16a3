package client

import (
	"fmt"

	"wallshoal/export/number"
)

// Promise says in one sentence what is agreed.
func (s Summary) Promise() string {
	return fmt.Sprintf("Up to %s in %s, for %s, as the layout with the fingerprint %s has them.",
		number.Count(s.Holes, "hole", "holes"), number.Count(len(s.Walls), "wall", "walls"), number.Count(s.Pieces, "piece", "pieces"), s.Fingerprint)
}

// Changes says how a layout is told from another.
func (s Summary) Changes() string {
	return "The fingerprint is printed on every page and on every drilling sheet. It changes when any hole is moved, added or left out. " +
		"A sheet with another fingerprint is not of this layout."
}

// A Choice is what the two sides tick one answer to.
type Choice struct {
	About   string
	Answers []string
}

// Choices returns what is to be settled beside the holes. No answer is better than another.
func (s Summary) Choices() []Choice {
	return []Choice{
		{"When the layout changes before it is drilled", []string{
			"a layout with no more holes in any wall is shown first, and its fingerprint noted here",
			"every other layout is signed for again",
		}},
		{"Trial holes, and holes given up because of what lies behind", []string{
			"count among the holes agreed here",
			"may come on top, but no more than ________",
		}},
		{"Making good when the work comes down", []string{
			"whoever put it up fills and paints", "whoever the walls belong to does", "another way: ________________________",
		}},
	}
}

// Ticked is the last box of what the site provides and confirms.
const Ticked = "All that is ticked here has been seen to."

// Advice is what stands over the lines to sign on.
const Advice = "This page records what was shown and what was asked. It is no legal advice, and leaves out much that an agreement may need, such as payment, insurance and dates: have it read by whoever advises you before you sign."

// Parties returns who signs.
func (s Summary) Parties() [2]string {
	walls, work := "For the walls", "For the work"
	if s.For != "" {
		walls += ": " + s.For
	}
	if s.By != "" {
		work += ": " + s.By
	}
	return [2]string{walls, work}
}
