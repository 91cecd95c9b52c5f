package check

import (
	"fmt"
	"math"
)

func heatWindow() Rule {
	const id = "heat-window"
	return Rule{
		ID: id, Title: "the whole sheet gets warm enough before its face is too hot",
		Limit: "the lower limit in the sheet's row at its coldest place, °C", Unit: Celsius,
		Source: "heat flow across the sheet, by finite volumes; forming window: row of the sheet table; absorbed share of thin sheet: Throne, Technology of Thermoforming, 1996",
		Key:    "former.heater",
		Run: func(j *Job) []Finding {
			h := j.Heat
			if h == nil {
				return nil
			}
			where := j.Sheet.Title + " of " + MM.text(j.Kit.Sheet.Gauge) + " under the heater"
			fix := "turn the sheet over half way, heat it more slowly, or use a thinner sheet.gauge"
			switch {
			case math.IsInf(h.Ready.Nominal, 1):
				fix = "the heater does not get this sheet warm: check former.heater, move the sheet closer, or use a sheet.material that forms cooler"
			case h.Cooler > 0:
				fix = fmt.Sprintf("run the heater at %s or move it away until it acts so (former.heater), or turn the sheet over half way", Celsius.text(h.Cooler))
			}
			return least(Warn, Celsius, where, h.Coldest, j.limit(id, j.Sheet.Low), fix)
		},
	}
}
