// Package plan reads the plan file, in which a person writes down the walls, the pieces and the
// idea of movement.
//
// A plan is YAML: sections of keys and values. Lengths are numbers in the plan's units, or carry
// their own: 2.4 m, 180mm, 7'-6 1/2". The sections are described at Plan, RoomSection,
// WallSection, StudsSection, JointsSection, FarSideSection, ObstructionSection, ZoneSection, PieceSection,
// HoleSection, CompositionSection, CurrentSection, PrintSection, InstallSection, ReachSection,
// HoursSection, OperationSection, CalendarSection, OffSection, SheetSection, SparesSection, MaterialSection,
// RecipeSection, CostSection, CostLineSection and OptionSection, each of which lists the keys it
// knows, in the words of the plan.
package plan

import (
	"fmt"
	"io/fs"
	"math"
	"time"

	"wallshoal/cmd/wallshoal/yamlfile"
	"wallshoal/export/making"
	"wallshoal/export/photo"
	"wallshoal/export/tiling"
	"wallshoal/scatter"
	"wallshoal/wall"
	"wallshoal/wall/measure"
)

// A Plan is what a plan file says.
//
//	title:        what the work is called; needed
//	for:          whose wall it is
//	place:        where the wall is
//	by:           who made the plan
//	date:         date of issue, as 2026-11-25; none if left out
//	units:        mm, cm, m, in or ft, of every bare number; mm if left out
//	seed:         a whole number; another seed, another layout by the same rules; 1 if left out
//	room:         see RoomSection; needed
//	pieces:       a list, see PieceSection; needed
//	composition:  see CompositionSection; needed
//	print:        see PrintSection
//	install:      see InstallSection
//	hours:        see HoursSection; nothing is said of time if left out
//	calendar:     see CalendarSection; no dates are given if left out
//	sheets:       a list of what pieces are cut from, see SheetSection
//	spares:       see SparesSection; none if left out
//	stock:        pieces in hand by their codes, like {A: 12}
//	materials:    a list of what pieces take, see MaterialSection
//	recipes:      a list of how materials are mixed, see RecipeSection
//	cost:         see CostSection; nothing is said of money if left out
//	cautions:     see CautionsSection; the usual figures if left out
//	options:      a list of ways of carrying it out, side by side, see OptionSection
type Plan struct {
	Title       string
	For         string
	Place       string
	By          string
	Date        time.Time // zero where the plan gives none
	Units       measure.Unit
	Seed        uint64
	Room        wall.Room
	Photos      []PhotoSection // of its walls
	Kinds       []scatter.Kind
	Composition scatter.Composition
	Print       tiling.Print
	Install     InstallSection
	Hours       *HoursSection    // nil where the plan has none
	Calendar    *CalendarSection // likewise
	Sheets      []SheetSection
	Spares      SparesSection
	Stock       map[string]int // pieces in hand by the codes of kinds
	Materials   []MaterialSection
	Recipes     []RecipeSection
	Cost        *CostSection // nil where the plan has none
	Cautions    CautionsSection
	Options     []OptionSection
	Lines       map[string]int // by the names of fields, where those stand of which more may be to be said
}

// Read returns the plan in data, which is the contents of the file called name. The error is nil
// or yamlfile.Faults: everything that is wrong with the plan, in file order.
func Read(name string, data []byte) (Plan, error) { return ReadBeside(name, data, nil) }

// ReadBeside is Read, and looks in files, which are those in the folder of the plan and below, for
// what the plan names there. Where files is nil a plan may name none.
func ReadBeside(name string, data []byte, files fs.FS) (Plan, error) {
	var p Plan
	err := yamlfile.Read(name, data, MaxBytes, func(f *yamlfile.File, top yamlfile.Map) {
		r := &reader{file: f, files: files}
		p = r.plan(top)
		p.Lines = lines(f, p)
	})
	if err != nil {
		return Plan{}, err
	}
	return p, nil
}

// lines returns where the parts of a plan stand that can be sound by themselves and still not come
// to anything together.
func lines(f *yamlfile.File, p Plan) map[string]int {
	found := map[string]int{}
	keep := func(field string) { found[field] = f.Line(field) }
	keep(CountField)
	keep(BaseField)
	keep(DatumField)
	for _, field := range []string{"hours", "hours.log", "calendar", "calendar.install", "calendar.days", "cost", "cost.budget", "spares", "sheets"} {
		keep(field)
	}
	for i := range p.Options {
		keep(OptionField(i, ""))
		keep(OptionField(i, "count"))
	}
	for i := range p.Cautions.Acknowledged {
		keep(AcknowledgedField(i))
	}
	for i, w := range p.Room.Walls {
		for j := range w.Obstructions {
			keep(ObstructionField(i, j))
		}
	}
	return found
}

// Names of fields that are among the lines of a plan.
const (
	CountField = "composition.count"
	BaseField  = "composition.density.base"
	DatumField = "room.datum"
)

// ObstructionField returns the name of an obstruction on a wall, given their indices.
func ObstructionField(wall, obstruction int) string {
	return fmt.Sprintf("room.walls[%d].obstructions[%d]", wall, obstruction)
}

// A reader reads one plan.
type reader struct {
	file   *yamlfile.File
	photos []photo.View
	files  fs.FS // in the folder of the plan; nil where that is not known
	units  measure.Unit
	drawn  []piece // its pieces, before they are told apart by forms and sizes
}

func (r *reader) plan(top yamlfile.Map) Plan {
	top.Known("title", "for", "place", "by", "date", "units", "seed", "room", "pieces", "composition", "print", "install", "hours", "calendar", "cautions",
		"sheets", "spares", "stock", "materials", "recipes", "cost", "options")
	units, known := r.readUnits(top.Get("units"))
	if !known {
		return Plan{} // nobody can tell what is wrong with numbers in it
	}
	r.units = units
	p := Plan{Units: r.units, Seed: 1}
	p.Title, _ = top.Get("title").Need("give the work a title").Text(maxTitle)
	p.For, _ = top.Get("for").Text(maxTitle)
	p.Place, _ = top.Get("place").Text(maxTitle)
	p.By, _ = top.Get("by").Text(maxTitle)
	p.Date = readDate(top.Get("date"))
	if seed, ok := top.Get("seed").Seed(); ok {
		p.Seed = seed
	}
	p.Room = r.room(top.Get("room").Need("describe the walls, under room: and walls:"))
	p.Photos = r.photos
	r.datum(top, p.Room)
	p.Cautions, p.Room.Rules = r.cautions(top.Get("cautions"))
	p.Kinds = r.pieces(top.Get("pieces").Need("describe at least one kind of piece"))
	r.bits(p.Room, p.Kinds)
	r.decided(top.Get("cautions"), p.Room, p.Kinds, &p.Cautions)
	p.Composition = r.composition(top.Get("composition").Need("say how many pieces there are to be, and how they move"), p.Room, p.Kinds)
	p.Print = r.print(top.Get("print"))
	p.Install = r.install(top.Get("install"), p.Kinds)
	p.Hours = r.hours(top.Get("hours"), p.Kinds)
	p.Calendar = r.calendar(top.Get("calendar"), p.Date, top.Get("hours").Given())
	p.Sheets = r.sheets(top.Get("sheets"), p.Kinds)
	p.Spares = r.spares(top.Get("spares"))
	p.Stock = r.inHand(top.Get("stock"), p.Kinds)
	p.Materials, p.Recipes = r.materials(top.Get("materials"), top.Get("recipes"), p.Kinds, p.Sheets)
	p.Cost = r.cost(top.Get("cost"), map[string]bool{making.OfMaterials: top.Get("materials").Given(), making.OfSheets: top.Get("sheets").Given(), making.OfHours: top.Get("hours").Given()})
	p.Options = r.options(top.Get("options"), top.Get("composition"), p)
	return p
}

// datum complains of a level line that is on none of the walls.
func (r *reader) datum(top yamlfile.Map, room wall.Room) {
	if r.file.Faulty("room") || len(room.Walls) == 0 {
		return
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, w := range room.Walls {
		b := w.Outline.Bounds()
		low, high = math.Min(low, b.Min.Y), math.Max(high, b.Max.Y)
	}
	if low <= room.Datum && room.Datum <= high {
		return
	}
	wrong := r.show(room.Datum) + " is above every wall"
	if room.Datum < low {
		wrong = r.show(room.Datum) + " is below the foot of every wall"
	}
	m, _ := top.Get("room").Map()
	if !m.Get("datum").Given() {
		wrong = "none is given, and the usual " + wrong
	}
	r.file.Fault(DatumField, wrong, "give the height of a level line from "+r.show(low)+" to "+r.show(high))
}

// judge files the problems of parts of the plan that could be read; a part with a fault of its own
// has been complained of already.
func (r *reader) judge(problems []wall.Problem) {
	for _, p := range problems {
		if !r.file.Faulty(p.Field) {
			r.file.Fault(p.Field, p.Wrong, p.Fix)
		}
	}
}

// readUnits reads the unit of bare numbers, and reports whether it is known. Where a slip of the hand
// is all that is wrong with its name, it is the one that was meant.
func (r *reader) readUnits(v yamlfile.Value) (u measure.Unit, known bool) {
	if !v.Given() {
		return measure.Millimetre, true
	}
	text, ok := v.Text(maxTitle)
	if !ok {
		return "", false
	}
	u, err := measure.ParseUnit(text)
	if err == nil {
		return u, true
	}
	fault := err.(*measure.Error)
	var names []string
	for _, u := range measure.Units() {
		names = append(names, u.Names()...)
	}
	u, err = measure.ParseUnit(yamlfile.Nearest(text, names))
	if err != nil {
		v.Fault(fault.Wrong, fault.Fix)
		return "", false
	}
	v.Fault(fault.Wrong, "did you mean "+string(u)+"?")
	return u, true
}

func readDate(v yamlfile.Value) time.Time {
	text, ok := v.Text(maxTitle)
	if !ok {
		return time.Time{}
	}
	date, err := time.Parse(time.DateOnly, text)
	if err != nil {
		v.Fault(yamlfile.Quote(text)+" is not a date", "write year, month and day, like 2026-11-25")
		return time.Time{}
	}
	return date
}
