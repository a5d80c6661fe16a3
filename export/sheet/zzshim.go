package sheet
import ("wallshoal/export/draw";"wallshoal/export/holemap";"wallshoal/export/stand";"wallshoal/scatter")
type Layer string
const LayerStands Layer="stands"
func Layers() []Layer { return []Layer{LayerStands,"zones"} }
type ScreenWith struct { Print Print; Stands []stand.Stand; Composition scatter.Composition }
func ScreenLayer(c draw.Canvas, w holemap.Work, face int, l Layer, with ScreenWith) error { b:=ScreenFrame(w,face); c.Page(b.Width(),b.Height()); return nil }
