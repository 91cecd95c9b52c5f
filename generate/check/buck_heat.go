package check

import "math"

// room is the temperature, °C, of a buck that has cooled down.
const room = 25.0

// contactTemp is the temperature, °C, of the buck's skin when the sheet, at its
// forming temperature, meets it: the mean of both weighed by their
// effusivities. It holds until the heat has crossed the sheet.
func contactTemp(j *Job) float64 {
	s := effusivity(j.Sheet.K.Mid(), j.Sheet.Density, j.Sheet.Cp.Most)
	b := effusivity(j.Print.K.Mid(), j.Print.Density, j.Print.Cp.Mid())
	return (s*j.Sheet.Core + b*room) / (s + b)
}

// effusivity is in W s^0.5/(m² K), from W/(m K), kg/m³ and J/(kg K).
func effusivity(k, density, cp float64) float64 { return math.Sqrt(k * density * cp) }

func buckHeat() Rule {
	const id = "buck-heat"
	return Rule{
		ID: id, Title: "the printed buck stays hard where the hot sheet lies on it",
		Limit: "glass transition of the print material, °C", Unit: Celsius,
		Source: "contact temperature of two thick bodies: Carslaw and Jaeger, Conduction of Heat in Solids; glass transition: row of the print material table",
		Key:    "printer.material",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, j.Print.Tg)
			return most(Warn, Celsius, "buck of "+j.Print.Title+" under "+j.Sheet.Title, contactTemp(j), limit,
				"the skin softens, vents close and the insert may stick: print the buck in a printer.material with a higher glass transition; or form thin sheet, few shots, and let the buck cool fully between them")
		},
	}
}
