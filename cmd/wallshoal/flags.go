package main

import (
	"fmt"
	"strconv"
	"strings"

	"wallshoal/export/drafting"
	"wallshoal/export/tiling"
)

// What the flags that several commands share are for.
const (
	seedUsage  = "compose with this `number` instead of the plan's seed"
	paperUsage = "print on this `paper` instead of the plan's: A4 to A0, Letter, Legal, Tabloid, ARCH A to E1, or such as 'roll 914' or '36 in roll'"
)

// A seedFlag is a seed given on the command line, or none.
type seedFlag struct {
	seed  uint64
	given bool
}

// Set implements pflag.Value.
func (f *seedFlag) Set(text string) error {
	n, err := strconv.ParseUint(text, 10, 64)
	if err != nil {
		return fmt.Errorf("%q is not a seed; give a whole number from 0", text)
	}
	f.seed, f.given = n, true
	return nil
}

// String implements pflag.Value.
func (f *seedFlag) String() string {
	if !f.given {
		return ""
	}
	return strconv.FormatUint(f.seed, 10)
}

// Type implements pflag.Value.
func (f *seedFlag) Type() string { return "number" }

// or returns the seed given, or else the plan's.
func (f seedFlag) or(plan uint64) uint64 {
	if f.given {
		return f.seed
	}
	return plan
}

// A paperFlag is a paper named on the command line, or none.
type paperFlag struct {
	paper drafting.Paper
	given bool
}

// Set implements pflag.Value.
func (f *paperFlag) Set(text string) error {
	paper, known := drafting.PaperByName(text)
	if !known {
		return fmt.Errorf("%q is not a paper; name one of %s, or a roll as 'roll 914' or '36 in roll'", text, strings.Join(drafting.PaperNames(), ", "))
	}
	f.paper, f.given = paper, true
	return nil
}

// String implements pflag.Value.
func (f *paperFlag) String() string { return f.paper.Name }

// Type implements pflag.Value.
func (f *paperFlag) Type() string { return "paper" }

// over returns how a plan asks to be printed, on the paper given.
func (f paperFlag) over(p tiling.Print) tiling.Print {
	if f.given {
		p.Paper = f.paper
	}
	return p
}
