package elevation_test

import (
	"bytes"
	"fmt"
	"testing"

	"hodman/service"
	"hodman/service/elevation"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/takeoff"
	"hodman/testdata"
)

// long is a cavity wall of so many metres with a window every five, and gardenWall one of a
// brick without any.
func long(metres int) string {
	openings := ""
	for i := range metres / 5 {
		if i > 0 {
			openings += ","
		}
		openings += fmt.Sprintf(`{"ref": "W%d", "left_mm": %d, "sill_mm": 900, "width_mm": 1210, "height_mm": 1200}`, i+1, 5000*i+1800)
	}
	return `{"reference": "long", "rulebook": "gb", "wall_types": [{"key": "T", "outer": {"product": "BRK-65-FACE"}, "cavity": {"width_mm": 100}, "inner": {"product": "BLK-100-D"}}],
		"walls": [{"ref": "L", "type": "T", "length_mm": ` + fmt.Sprint(1000*metres) + `, "height_mm": 5400, "left": "stop_end", "right": "stop_end", "openings": [` + openings + `]}]}`
}

const gardenWall = `{"reference": "garden", "rulebook": "gb", "wall_types": [{"key": "T", "single": {"product": "BRK-65-FACE", "bond": "flemish", "thickness_mm": 215}}],
	"walls": [{"ref": "G", "type": "T", "length_mm": 2000000, "height_mm": 1800, "left": "stop_end", "right": "stop_end"}]}`

// largest is a gable of 60 m, in which no two courses are alike.
const largest = `{"reference": "largest", "rulebook": "gb", "wall_types": [{"key": "T", "single": {"product": "BRK-65-FACE"}}],
	"walls": [{"ref": "G", "type": "T", "length_mm": 60000, "height_mm": 6000, "left": "stop_end", "right": "stop_end", "top": {"shape": "gable", "apex_mm": 20000, "apex_at_mm": 30000}}]}`

// sheetOf takes a schedule off and gathers what its first wall's drawing shows.
func sheetOf(b *testing.B, document string) *elevation.Sheet {
	s := parse(b, document)
	if faults := s.Check(product.Demo()); len(faults) > 0 {
		b.Fatal(faults)
	}
	book := rulebook.Find(s.Rulebook)
	return service.SheetOf(takeoff.Build(s, product.Demo(), book), s, 0, book)
}

// BenchmarkElevation draws walls that have been taken off. Beside each, what it takes to write
// as many bytes, a piece at a time, into a buffer.
func BenchmarkElevation(b *testing.B) {
	for _, c := range []struct{ name, document string }{
		{"demo", string(testdata.RearWing)}, {"40m", long(40)}, {"200 windows", long(1000)}, {"2km", gardenWall}, {"gable", largest},
	} {
		sheet := sheetOf(b, c.document)
		size := len(elevation.Draw(sheet))
		b.Run(c.name+"/draw", func(b *testing.B) {
			b.ReportAllocs()
			b.ReportMetric(float64(size), "bytes")
			for b.Loop() {
				elevation.Draw(sheet)
			}
		})
		b.Run(c.name+"/write", func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				var to bytes.Buffer
				for to.Len() < size {
					to.WriteString("h215v-65h-215zm225 0")
				}
			}
		})
	}
}
