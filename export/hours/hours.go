// Package hours says how long the work takes, judged from jobs that the maker has logged.
//
// A log is a CSV table with a row for each operation of each job:
//
//	job,operation,units,minutes
//	School stair,fold,210,395
//	School stair,drill and pin,210,260
//	Reading room,fold,190,350
//
// Units are what the operation counts, and minutes are of work, of all hands together: two people for
// an hour are 120. A plan asks for operations in words such as these:
//
//	hours:
//	  log: jobs.csv              # beside the plan
//	  likelihood: 80             # how often the interval is to hold, in percent
//	  operations:                # in the order in which they are done
//	    - name: fold
//	      per: piece             # piece, hole, square metre, square foot, sheet or job
//	      of: [A, B]             # codes of the kinds that need it; all if left out
//	      for: making            # counts what is to be made; or hanging, what hangs; see Settled if left out
//	      crew: 2
//	    - name: fire
//	      per: piece
//	      batch: 40              # so many at a time: units are loads of the kiln
//	      minutes: {least: 20, likely: 25, most: 45}   # for one unit, where the log does not say
//	      wait: 24 h             # before the next can begin, through nights and days off
//	    - name: glue comes       # without per nothing is done, and only time passes
//	      wait: 10 days
//
// Where the log has three jobs or more, minutes are a straight line over units, laid by least squares,
// and the interval is that of one new job. Where it has fewer, or none, the figures least, likely and
// most stand in; without them the estimate is a guess and says so. Every estimate tells in plain words
// what it rests on.
package hours

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"wallshoal/export/quote"
	"wallshoal/wall"
)

// Per is what the units of an operation are.
type Per string

// What operations can count.
const (
	Piece       Per = "piece"
	Hole        Per = "hole"
	SquareMetre Per = "square metre" // of the faces that carry pieces
	SquareFoot  Per = "square foot"
	Sheet       Per = "sheet" // of the hole map
	Job         Per = "job"
	None        Per = "" // of what is only waited for, such as paper that has been ordered
)

// Pers returns everything that operations can count, as plans name it.
func Pers() []Per { return []Per{Piece, Hole, SquareMetre, SquareFoot, Sheet, Job} }

// Purpose is what an operation is for, which says how many pieces it counts.
type Purpose string

// What operations are for.
const (
	Making  Purpose = "making"  // of pieces that are to be made: with spares, without those in hand
	Hanging Purpose = "hanging" // of pieces that hang
)

// Purposes returns everything that operations can be for, as plans name it.
func Purposes() []Purpose { return []Purpose{Making, Hanging} }

// byKind reports whether units of the sort belong to kinds of pieces.
func (p Per) byKind() bool { return p == Piece || p == Hole }

// An Operation is one sort of work that a job asks for.
type Operation struct {
	Name   string
	Per    Per
	Of     []string // codes of the kinds of pieces that need it; all where empty
	For    Purpose  // empty where nobody says; see Settled
	Batch  int      // so many at a time: units are batches; 0 for one by one
	Judged *Judged  // minutes for one unit; nil where nobody has judged them
}

// A Judged is a judgement of minutes by the least, the likeliest and the most that it can come to.
type Judged struct{ Least, Likely, Most float64 }

// Mean returns (a + 4m + b)/6, the mean of the three-point estimate. Malcolm, Roseboom, Clark and
// Fazar, Application of a technique for research and development program evaluation, Operations
// Research 7, 1959 (from memory); common practice since.
func (j Judged) Mean() float64 { return (j.Least + float64(4*j.Likely) + j.Most) / 6 }

// SD returns (b - a)/6, the standard deviation of the three-point estimate; source as for Mean.
func (j Judged) SD() float64 { return (j.Most - j.Least) / 6 }

// Counts is what a work holds for operations to count.
type Counts struct {
	Kinds  []KindCount // that hang
	Made   []KindCount // that are to be made
	Area   float64     // of the faces that carry pieces, m²
	Sheets int         // of the hole map
}

// A KindCount counts pieces of one kind, and their holes.
type KindCount struct {
	Code          string
	Pieces, Holes int
}

// squareFoot is one square foot in m²: a foot is 0.3048 m exactly.
const squareFoot = 0.3048 * 0.3048

// Units returns how many units of the operation the counts hold. What is for making counts what is to be made,
// all else what hangs; where nothing at all is to be made, there is nothing to do for making.
func (c Counts) Units(o Operation) float64 {
	if c.idle(o) {
		return 0
	}
	units := 0.0
	switch o.Per {
	case Piece, Hole:
		kinds := c.Kinds
		if o.For == Making {
			kinds = c.Made
		}
		for _, k := range kinds {
			if len(o.Of) > 0 && !slices.Contains(o.Of, k.Code) {
				continue
			}
			if o.Per == Hole {
				units += float64(k.Holes)
			} else {
				units += float64(k.Pieces)
			}
		}
	case SquareMetre:
		units = c.Area
	case SquareFoot:
		units = c.Area / squareFoot
	case Sheet:
		units = float64(c.Sheets)
	case Job:
		units = 1
	}
	if o.Batch > 1 {
		units = math.Ceil(units / float64(o.Batch))
	}
	return math.Round(units*100) / 100
}

// idle reports whether the operation is for making, and nothing is to be made.
func (c Counts) idle(o Operation) bool {
	return o.For == Making && !slices.ContainsFunc(c.Made, func(k KindCount) bool { return k.Pieces > 0 })
}

// Limits of what is asked.
const (
	MaxOperations = 100
	MaxBatch      = 100_000
	MinLikelihood = 0.5
	MaxLikelihood = 0.99
	Likelihood    = 0.8 // where nobody says: one job in ten takes longer than the interval's end
)

// Check returns what is wrong with the operations of a plan, given the codes of its kinds of pieces,
// with fields as a plan names them.
func Check(operations []Operation, codes []string) []wall.Problem {
	var out []wall.Problem
	first := map[string]int{}
	for i, o := range operations {
		add := func(field, wrong, fix string) {
			out = append(out, wall.Problem{Field: fmt.Sprintf("hours.operations[%d].%s", i, field), Wrong: wrong, Fix: fix})
		}
		if j, twice := first[Same(o.Name)]; twice {
			add("name", fmt.Sprintf("%s is the name of operation %d already", quote.Text(o.Name), j+1), "give each operation a name of its own")
		} else if first[Same(o.Name)] = i; strings.TrimSpace(o.Name) == "" {
			add("name", "is empty", "give each operation a name")
		}
		if o.For != "" && !slices.Contains(Purposes(), o.For) {
			add("for", quote.Text(string(o.For))+" is nothing that work is for", "write making or hanging")
		}
		if o.Per == None {
			if len(o.Of) > 0 || o.Batch != 0 || o.Judged != nil {
				add("per", "is missing", "write one of "+perNames())
			}
			continue
		}
		if !slices.Contains(Pers(), o.Per) {
			add("per", quote.Text(string(o.Per))+" is nothing to count", "write one of "+perNames())
			continue
		}
		if len(o.Of) > 0 && !o.Per.byKind() {
			add("of", "kinds of pieces have no part in what is counted per "+string(o.Per), "remove it, or count per piece or per hole")
		}
		for j, code := range o.Of {
			if !slices.Contains(codes, code) {
				add(fmt.Sprintf("of[%d]", j), quote.Text(code)+" is no kind of piece", "write one of "+strings.Join(codes, ", "))
			}
		}
		if o.Batch != 0 && (o.Batch < 2 || o.Batch > MaxBatch) {
			add("batch", fmt.Sprintf("%d at a time are no batch", o.Batch), fmt.Sprintf("write a number from 2 to %d", MaxBatch))
		}
		if o.Batch != 0 && !o.Per.byKind() && o.Per != Sheet {
			add("batch", "batches are of pieces, holes or sheets", "remove it")
		}
		if o.Judged != nil {
			o.Judged.check(add)
		}
	}
	return out
}

func (j Judged) check(add func(field, wrong, fix string)) {
	for _, v := range []struct {
		name    string
		minutes float64
	}{{"least", j.Least}, {"likely", j.Likely}, {"most", j.Most}} {
		if !(v.minutes >= 0 && v.minutes <= MaxMinutes) {
			add("minutes."+v.name, fmt.Sprintf("%g minutes are out of range", v.minutes), fmt.Sprintf("write a number from 0 to %d", int(MaxMinutes)))
			return
		}
	}
	switch {
	case j.Likely < j.Least:
		add("minutes.likely", figure(j.Likely)+" is less than the least, "+figure(j.Least), "write least ≤ likely ≤ most")
	case j.Most < j.Likely:
		add("minutes.most", figure(j.Most)+" is less than the likely "+figure(j.Likely), "write least ≤ likely ≤ most")
	case j.Most == 0:
		add("minutes.most", "no time at all is left for it", "write a number above 0")
	}
}

func perNames() string {
	var names []string
	for _, p := range Pers() {
		names = append(names, string(p))
	}
	return strings.Join(names, ", ")
}

// figure returns a number with as many decimals as it needs, two at most.
func figure(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
}
