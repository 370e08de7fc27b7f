package limits

// How fast water may change.
const (
	PHStepDay    = 0.2 // a day: common practice, slower than the law's figure
	PHStepMost   = 0.5 // that is not harmful by itself: eu-2006-44, Annex I note a
	WarmthStep   = 1.0 // kelvin a day; a greater fall may hurt: aquarium-water-maintenance
	WarmthDanger = 3.0 // kelvin at once, against a danger that kills sooner: common practice

	KHStepDay   = 20.0 // mg/L as CaCO3 a day, about one German degree: common practice
	KHStepCrash = 5.0  // after a pH crash, in four parts: the pH tells in between

	ChangeMost  = 50.0 // per cent of the water at a time: common practice
	ChangeUsual = 25.0 // for a change that nothing presses
	ChangeGasps = 20.0 // for fish that gasp, again and again: a fifth is no second shock
	ChangeLeast = 10.0 // where the water must change slowly
)

// VolumeError is by how much a volume from a tape measure may be out, per cent:
// common practice.
const VolumeError = 20.0

// After how many hours to test again, by how urgent it is: common practice.
const (
	RetestEmergency = 1.0
	RetestAct       = 12.0
	RetestWatch     = 24.0
	RetestGood      = 7 * 24.0
)
