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
