package caution

import (
	"fmt"
	"math"

	"wallshoal/scatter"
)

// A LadderRule says how far out from the wall the foot of a leaning ladder stands.
type LadderRule string

// The rules for leaning ladders. They differ by a hand's breadth, and none of them says that a ladder
// is what the work takes.
const (
	LadderUp    LadderRule = "up"    // 1 out for every 4 up
	LadderAlong LadderRule = "along" // 1 out for every 4 along the ladder
	LadderAngle LadderRule = "75deg" // at 75°
)

// LadderRules returns every rule for leaning ladders.
func LadderRules() []LadderRule { return []LadderRule{LadderUp, LadderAlong, LadderAngle} }

// Foot returns how far out the foot of a ladder stands that rests against the wall so high above the
// floor, both in mm. A rule that is empty is LadderUp.
func (r LadderRule) Foot(height float64) float64 {
	switch r {
	case LadderAlong:
		return height / math.Sqrt(15) // up and out are the sides of a right angle, and the ladder 4 times out
	case LadderAngle:
		return height / (2 + math.Sqrt(3)) // the tangent of 75°
	}
	return height / 4
}

func (r LadderRule) words() string {
	switch r {
	case LadderAlong:
		return "1 out for every 4 along the ladder"
	case LadderAngle:
		return "at 75°"
	}
	return "1 out for every 4 up"
}

func (r LadderRule) source() string {
	if r == LadderAlong {
		return "29 CFR 1926.1053(b)(5)(i)"
	}
	return "ladder guidance of the UK and New Zealand"
}

// heights are the highest holes of a wall above the floor under them, in mm; 0 where there are none.
type heights struct {
	ladder   float64 // of those drilled from a ladder
	platform float64 // of those that take a platform
	low      float64 // of the floor under any of them
	high     float64
}

// riser is how much the floor rises along a wall where there are steps, mm.
const riser = 150

// overheadOn reports whether the face looks down on whoever drills it.
func (g gathering) overheadOn(face int) bool { return g.site.Faces[face].Frame.Out.Z <= -0.5 }

// above returns how high the hole of p with the given index is above the floor under it, in mm, and how
// high that floor is.
func (g gathering) above(p scatter.Piece, kinds []scatter.Kind, hole int) (height, floor float64) {
	at := p.HoleAt(kinds, hole)
	floor = g.site.FloorBelow(p.Face, at)
	return g.site.Faces[p.Face].Frame.At(at).Z - floor, floor
}

// reached reports how a hole so high above the floor is reached: high is that it is not from the floor.
func (l Limits) reached(height float64, overhead bool) (high, platform bool) {
	return height > l.Reach, height > l.Reach && (overhead || height > math.Max(l.Ladder, l.Reach))
}

// climb finds the highest holes of every wall.
func (g gathering) climb(pieces []scatter.Piece, kinds []scatter.Kind) {
	for _, p := range pieces {
		w := g.site.Faces[p.Face].Wall
		for i := range kinds[p.Kind].Holes {
			height, floor := g.above(p, kinds, i)
			high, platform := g.limits.reached(height, g.overheadOn(p.Face))
			if !high {
				continue
			}
			h, known := g.highest[w]
			if !known {
				h.low, h.high = floor, floor
			}
			h.low, h.high = math.Min(h.low, floor), math.Max(h.high, floor)
			if platform {
				h.platform = math.Max(h.platform, height)
			} else {
				h.ladder = math.Max(h.ladder, height)
			}
			g.highest[w] = h
		}
	}
}

// metres returns a height as people say it.
func (l Limits) metres(mm float64) string { return l.length(mm, fmt.Sprintf("%.2f m", mm/1000)) }

// heights counts the holes of p that are drilled from a ladder or a platform.
func (g gathering) heights(p scatter.Piece, kinds []scatter.Kind, limits Limits) {
	for i := range kinds[p.Kind].Holes {
		height, _ := g.above(p, kinds, i)
		switch high, far := limits.reached(height, g.overheadOn(p.Face)); {
		case far:
			g.add(g.fromPlatform(p), "", p, i)
		case high:
			g.add(g.fromLadder(p), "", p, i)
		}
	}
}

// fromLadder speaks of holes that a ladder reaches, and of how that stands for the highest on the wall.
func (g gathering) fromLadder(p scatter.Piece) subject {
	highest, l := g.highest[g.site.Faces[p.Face].Wall], g.limits
	return g.onFace(p, Note, "height",
		fmt.Sprintf("holes higher than %s above the floor are drilled from a ladder or a platform, here up to %s. A leaning ladder that rests so high stands %s out at its foot, %s",
			l.length(l.Reach, fmt.Sprintf("%.1f m", l.Reach/1000)), l.metres(highest.ladder), l.metres(l.LadderRule.Foot(highest.ladder)), l.LadderRule.words()),
		"use one that is meant for the height, on a firm floor, with somebody at its foot; keep three points of contact, so drill with both hands from a platform only; and never stand on the top or the top step of a stepladder"+highest.overSteps(),
		"common practice; "+l.LadderRule.source()+" for the foot; 29 CFR 1926.1053(b)(13) for the top step")
}

// fromPlatform speaks of holes that no ladder is for.
func (g gathering) fromPlatform(p scatter.Piece) subject {
	highest := g.highest[g.site.Faces[p.Face].Wall]
	return g.onFace(p, Note, "platform",
		fmt.Sprintf("holes above what a step ladder reaches, and those overhead that cannot be reached from the floor, take a platform or a tower, here up to %s above the floor", g.limits.metres(highest.platform)),
		"have it put up by somebody who has learnt it, work by two with its guard rails up, and keep everybody out from under it"+highest.overSteps(),
		"common practice; check locally and in its maker's instructions")
}

// overSteps says what to do where the floor rises under the holes; nothing where it is level.
func (h heights) overSteps() string {
	if h.high-h.low < riser {
		return ""
	}
	return "; over steps use a platform made for stairs, and no ladder; heights here count from the floor right below each hole, those of the order of work from where one stands"
}
