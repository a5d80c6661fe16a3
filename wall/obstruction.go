package wall

// An ObstructionKind names what stands on a wall.
type ObstructionKind string

// The kinds that a plan can name.
const (
	Bulkhead     ObstructionKind = "bulkhead"
	Chimney      ObstructionKind = "chimney breast"
	Column       ObstructionKind = "column"
	Boxing       ObstructionKind = "boxing"
	Niche        ObstructionKind = "niche"
	Shelf        ObstructionKind = "shelf"
	Fireplace    ObstructionKind = "fireplace" // the opening for the fire, not the breast round it
	Flue         ObstructionKind = "flue"
	Radiator     ObstructionKind = "radiator"
	Lamp         ObstructionKind = "lamp"
	Window       ObstructionKind = "window"
	Door         ObstructionKind = "door"
	ExitDoor     ObstructionKind = "exit door"
	Hatch        ObstructionKind = "hatch"
	Switch       ObstructionKind = "switch"
	Socket       ObstructionKind = "socket"
	Panel        ObstructionKind = "panel" // electrical distribution board
	Cable        ObstructionKind = "cable" // a known run
	Pipe         ObstructionKind = "pipe"  // a known run
	Vent         ObstructionKind = "vent"
	Sprinkler    ObstructionKind = "sprinkler"
	Detector     ObstructionKind = "detector" // smoke or heat
	Alarm        ObstructionKind = "alarm"    // sounder or strobe
	CallPoint    ObstructionKind = "call point"
	Extinguisher ObstructionKind = "extinguisher"
	ExitSign     ObstructionKind = "exit sign"
	Sign         ObstructionKind = "sign"
	Fixture      ObstructionKind = "fixture" // anything else
)

// A KindRule says what the program takes for granted about a kind of obstruction.
type KindRule struct {
	Kind      ObstructionKind
	Clearance float64 // pieces keep this far from it unless the plan says otherwise, mm
	Source    string  // where the clearance comes from
}

// Rule returns what is taken for granted about kind. For a kind that no plan can name it returns
// the zero rule.
//
// No code known to us gives a distance that art must keep from these things, so the clearances are
// what makes a wall easy to drill and its fittings easy to reach. They are starting points to be
// checked on the spot.
func Rule(kind ObstructionKind) KindRule {
	const (
		reach  = "common practice: room for a drill and a hand beside it"
		work   = "common practice: room to work it and to take its cover off"
		opens  = "common practice: room for the frame, the handle and what opens"
		heat   = "common practice: out of the warm air beside it; check locally"
		behind = "common practice: holes keep off a known run; check locally"
		seen   = "common practice, so that it stays in plain view; codes ask for that without a distance (IFC 2018 §906.5, 907.4.2, 1031.4); check locally"
		senses = "common practice, so that air and smoke reach it; check locally and in its listing"
	)
	clearance, source := 50.0, reach
	switch kind {
	case Bulkhead, Chimney, Column, Boxing, Niche:
		clearance = 30
	case Shelf, Fixture, Sign:
	case Window, Door, Hatch:
		source = opens
	case ExitDoor:
		clearance, source = 150, "common practice; decorations may not cover an exit door (IFC 2018 §1031.6); check locally"
	case Switch, Socket, Panel:
		source = work
	case Fireplace:
		source = heat
	case Flue, Radiator, Lamp:
		clearance, source = 100, heat
	case Cable, Pipe:
		source = behind
	case Vent:
		clearance, source = 100, "common practice: room for its air; check locally"
	case Sprinkler, Detector:
		clearance, source = 150, senses
	case Alarm, CallPoint, Extinguisher, ExitSign:
		clearance, source = 150, seen
	default:
		return KindRule{}
	}
	return KindRule{kind, clearance, source}
}

// hidden reports whether o is a run inside the wall: pieces may hang before it, holes may not
// reach it.
func (o Obstruction) hidden() bool {
	return (o.Kind == Cable || o.Kind == Pipe) && o.Depth <= 0
}
