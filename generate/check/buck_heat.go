package check

import "buckwright/generate/forming"

// contactTemp is the temperature, °C, of the buck's skin when the sheet, at its
// forming temperature, meets it on a cool buck.
func contactTemp(j *Job) float64 {
	return forming.Contact(sheetOf(j), j.Sheet.Core, printOf(j), Room)
}

func buckHeat() Rule {
	const id = "buck-heat"
	return Rule{
		ID: id, Title: "the printed buck stays hard where the hot sheet lies on it",
		Limit: "softening of the print material, °C: glass transition, or deflection at 1.8 MPa if that is higher", Unit: Celsius,
		Source: "contact temperature of two thick bodies: Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed. 1959; softening: row of the print material table",
		Key:    "printer.material",
		Run: func(j *Job) []Finding {
			limit := j.limit(id, j.Print.Softens())
			return most(Warn, Celsius, "buck of "+j.Print.Title+" under "+j.Sheet.Title, contactTemp(j), limit,
				"the skin softens, vents close and the insert may stick: print the buck in a printer.material with a higher glass transition; or form thin sheet, few shots, and let the buck cool fully between them")
		},
	}
}
