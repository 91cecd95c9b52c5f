package generate

import (
	"buckwright/generate/check"
	"buckwright/generate/forming"
)

// job is what the checks may look at before anything is predicted or made.
func (r *Result) job() *check.Job {
	return &check.Job{
		Kit: r.Kit, Dims: r.Dims,
		Sheet: r.sheet, Liner: r.liner, LidLiner: r.lidLiner, Print: r.filament,
	}
}

// heating is how the kit's sheet warms up under its former's heater.
func (r *Result) heating() forming.Heating { return forming.Heat(check.HeatSetup(r.job())) }

// run is the kit's run of sheets with the least pause between them.
func (r *Result) run() forming.Run {
	_, run := check.RunSetup(r.job()).LeastPause()
	return run
}

// foresee predicts heat, air and the liner's grip, for which the kit must be laid out.
func (r *Result) foresee(items []*item) {
	heat, shots := r.heating(), r.run()
	r.Heat, r.Shots = &heat, &shots
	r.Air, r.Liners = r.airFacts(r.airVolumes()), r.linerMaps(items)
}
