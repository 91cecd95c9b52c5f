package fit

// itSteps are the upper ends of the size steps of ISO 286-1, mm: over the one
// before, up to and including this.
var itSteps = [...]float64{3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500}

// itTable is ISO 286-1:1988 table 1, µm, grades IT1 to IT18, one row a step.
var itTable = [len(itSteps)][18]float64{
	{.8, 1.2, 2, 3, 4, 6, 10, 14, 25, 40, 60, 100, 140, 250, 400, 600, 1000, 1400},
	{1, 1.5, 2.5, 4, 5, 8, 12, 18, 30, 48, 75, 120, 180, 300, 480, 750, 1200, 1800},
	{1, 1.5, 2.5, 4, 6, 9, 15, 22, 36, 58, 90, 150, 220, 360, 580, 900, 1500, 2200},
	{1.2, 2, 3, 5, 8, 11, 18, 27, 43, 70, 110, 180, 270, 430, 700, 1100, 1800, 2700},
	{1.5, 2.5, 4, 6, 9, 13, 21, 33, 52, 84, 130, 210, 330, 520, 840, 1300, 2100, 3300},
	{1.5, 2.5, 4, 7, 11, 16, 25, 39, 62, 100, 160, 250, 390, 620, 1000, 1600, 2500, 3900},
	{2, 3, 5, 8, 13, 19, 30, 46, 74, 120, 190, 300, 460, 740, 1200, 1900, 3000, 4600},
	{2.5, 4, 6, 10, 15, 22, 35, 54, 87, 140, 220, 350, 540, 870, 1400, 2200, 3500, 5400},
	{3.5, 5, 8, 12, 18, 25, 40, 63, 100, 160, 250, 400, 630, 1000, 1600, 2500, 4000, 6300},
	{4.5, 7, 10, 14, 20, 29, 46, 72, 115, 185, 290, 460, 720, 1150, 1850, 2900, 4600, 7200},
	{6, 8, 12, 16, 23, 32, 52, 81, 130, 210, 320, 520, 810, 1300, 2100, 3200, 5200, 8100},
	{7, 9, 13, 18, 25, 36, 57, 89, 140, 230, 360, 570, 890, 1400, 2300, 3600, 5700, 8900},
	{8, 10, 15, 20, 27, 40, 63, 97, 155, 250, 400, 630, 970, 1550, 2500, 4000, 6300, 9700},
}

// ITGrade is the ISO 286-1 standard tolerance, the whole width of the band in
// mm, of grade 1 to 18 for a size in mm. It is false outside 0 to 500 mm, and
// for IT14 to IT18 up to 1 mm, where the standard gives none.
//
// Source: ISO 286-1:1988, table 1.
func ITGrade(grade int, size float64) (float64, bool) {
	if grade < 1 || grade > 18 || !(size > 0 && size <= 500) || (grade >= 14 && size <= 1) {
		return 0, false
	}
	for i, most := range itSteps {
		if size <= most {
			return itTable[i][grade-1] / 1000, true
		}
	}
	return 0, false
}
