package limits

import "math"

// Where the bands begin, in what they count. Each is a row of the table, and of
// the figure set safety-reading-bands.
const (
	ChlorineAct       = math.SmallestNonzeroFloat64 // any that shows
	ChlorineEmergency = 0.02

	OxygenWatch     = 7.0
	OxygenAct       = 5.0
	OxygenEmergency = 3.0

	AmmoniaWatch     = 0.02
	AmmoniaAct       = 0.05
	AmmoniaEmergency = 0.2

	NitriteWatch     = 0.05
	NitriteAct       = 0.15
	NitriteEmergency = 0.5

	PHHighWatch    = 8.5
	PHHighAct      = 9.0
	PHLowWatch     = 7.0
	PHLowAct       = 6.8
	PHLowEmergency = 6.0

	AlkalinityHighWatch = 200.0
	AlkalinityLowWatch  = 100.0
	AlkalinityLowAct    = 50.0

	WarmWatch = 25.0
	WarmAct   = 28.0
	ColdWatch = 10.0
	ColdAct   = 4.0

	NitrateWatch = 50.0
	NitrateAct   = 100.0
)

// FirstKitStep is the first colour above zero of most kits for total ammonia,
// mg/L as nitrogen, from which a keeper looks closer: common practice.
const FirstKitStep = 0.25

// A filter is mature when total ammonia stays at most here and nitrite stays
// under this, both mg/L as nitrogen, for so many days at full feed: common
// practice. Less ammonia than that no tower is designed to, and no kit tells from
// none; the nitrite is where its act band begins.
const (
	MatureAmmonia = FirstKitStep
	MatureNitrite = NitriteAct
	MatureDays    = 7.0
)

// Limits that others have published, in what they count; the table names them.
const (
	OxygenEurope       = 4.0   // carp waters: authorities act below
	AmmoniaEurope      = 0.025 // as NH3, carp waters
	NitriteNoEffect    = 0.55  // as nitrogen
	NitriteLowChloride = 0.06  // as nitrogen, British Columbia
	PHGoodLow          = 6.5
	PHGoodHigh         = 9.0
	NitrateNoHarm      = 90.0 // as nitrogen, warm-water fish
	ChlorineHour       = 0.019
	CarbonDioxideNone  = 2.0  // no effect below
	CarbonDioxideMost  = 20.0 // borne if oxygen is near saturation
	ChlorideShield     = 0.1  // g/L, kept against nitrite in catfish ponds
	SaltPond           = 3.0
	SaltStrongest      = 30.0
)

// First filters for a lift, kg: to be looked into above, not safe below.
const (
	LiftOverhead = 7.0  // a woman, shoulder to above head, close to the body
	LiftAlone    = 16.0 // a woman, knuckle to elbow: from here get help
	LiftMan      = 25.0 // a man, knuckle to elbow
)

// Total chlorine of tap water, mg/L.
const (
	TapMost    = 4.0 // allowed in the United States: us-mrdl, 40 CFR 141.65
	TapBritain = 0.5 // usual there at most: boreholewater-uk, page text
	TapHighest = 8.0 // found with chloramine: pmc6881805, Table 3
)

// table lists every limit, reading by reading.
func table() []Limit {
	return []Limit{
		{Reading: Chlorine, Stated: ChlorineAct, Side: Above, Band: Act, Basis: "practice"},
		{Reading: Chlorine, Stated: 0.002, Label: "British Columbia, long term", Source: "bc-wqg-2006", Locator: "Table 19", Basis: "published"},
		{Reading: Chlorine, Stated: 0.011, Label: "United States, four days", Source: "wac-173-201a-240", Locator: "Table 240(3), from EPA 1984/86", Basis: "published"},
		{Reading: Chlorine, Stated: ChlorineHour, Label: "United States, one hour", Source: "wac-173-201a-240", Locator: "Table 240(3), from EPA 1984/86", Basis: "published"},
		{Reading: Chlorine, Stated: ChlorineEmergency, Side: Above, Band: Emergency, Label: "still toxic to fish below", Source: "wef-mop8", Locator: "dechlorination section", Basis: "published"},
		{Reading: Chlorine, Stated: 0.1, Label: "British Columbia, brief discharge", Source: "bc-wqg-2006", Locator: "Table 19", Basis: "published"},

		{Reading: Oxygen, Stated: 1, Label: "borne for short periods only", Source: "kdwp", Locator: "text", Basis: "published"},
		{Reading: Oxygen, Stated: OxygenEmergency, Side: Below, Band: Emergency, Label: "stress and poor growth: emergency below", Source: "nsw-dpi-do", Locator: "silver perch", Basis: "published"},
		{Reading: Oxygen, Stated: OxygenEurope, Label: "carp waters of Europe: authorities act below", Source: "eu-2006-44", Locator: "Annex I, cyprinid waters", Basis: "memory"},
		{Reading: Oxygen, Stated: OxygenAct, Side: Below, Band: Act, Label: "good growth needs more: act below", Source: "tpwd-fish-lab", Locator: "dissolved oxygen", Basis: "published"},
		{Reading: Oxygen, Stated: 5.56, Label: "carp in mild water begin to breathe less", Source: "hughes1983", Locator: "abstract; converted", Basis: "published"},
		{Reading: Oxygen, Stated: OxygenWatch, Side: Below, Band: Watch, Label: "good above, at sunrise", Basis: "practice"},

		{Reading: Ammonia, Stated: 0.005, As: AsNH3, Label: "European guide value, carp waters (to 2013)", Source: "eu-2006-44", Locator: "Annex I", Basis: "memory"},
		{Reading: Ammonia, Stated: 0.019, As: AsNH3, Label: "Canada, long term, the most easily harmed animals", Source: "ccme-ammonia", Locator: "guideline value", Basis: "published"},
		{Reading: Ammonia, Stated: AmmoniaWatch, Side: Above, Band: Watch, Label: "watch it from here", Basis: "practice"},
		{Reading: Ammonia, Stated: AmmoniaEurope, As: AsNH3, Label: "European limit, carp waters (to 2013)", Source: "eu-2006-44", Locator: "Annex I", Basis: "memory"},
		{Reading: Ammonia, Stated: AmmoniaAct, Side: Above, Band: Act, Label: "gill harm begins: act", Source: "edis-fa016", Locator: "Figure 2", Basis: "published"},
		{Reading: Ammonia, Stated: AmmoniaEmergency, Side: Above, Band: Emergency, Label: "emergency", Basis: "practice"},

		{Reading: Nitrite, Stated: 0.03, As: AsNO2, Label: "European guide value, carp waters (to 2013)", Source: "eu-2006-44", Locator: "Annex I", Basis: "memory"},
		{Reading: Nitrite, Stated: NitriteWatch, Side: Above, Band: Watch, Label: "watch it from here", Basis: "practice"},
		{Reading: Nitrite, Stated: NitriteLowChloride, Source: "bc-nitrogen-2009", Locator: "Table 2", Basis: "memory"},
		{Reading: Nitrite, Stated: NitriteAct, Side: Above, Band: Act, Label: "act", Basis: "practice"},
		{Reading: Nitrite, Stated: NitriteEmergency, Side: Above, Band: Emergency, Label: "emergency", Basis: "practice"},
		{Reading: Nitrite, Stated: NitriteNoEffect, Source: "no-effect-limits", Locator: "table", Basis: "published"},

		{Reading: PH, Stated: PHLowEmergency, Side: Below, Band: Emergency, Basis: "practice"},
		{Reading: PH, Stated: PHGoodLow, Source: "tpwd-fish-lab", Locator: "pH", Basis: "published"},
		{Reading: PH, Stated: PHLowAct, Side: Below, Band: Act, Basis: "practice"},
		{Reading: PH, Stated: PHLowWatch, Side: Below, Band: Watch, Basis: "practice"},
		{Reading: PH, Stated: PHHighWatch, Side: Above, Band: Watch, Basis: "practice"},
		{Reading: PH, Stated: PHHighAct, Side: Above, Band: Act, Basis: "practice"},
		{Reading: PH, Stated: PHGoodHigh, Source: "tpwd-fish-lab", Locator: "pH", Basis: "published"},

		{Reading: Alkalinity, Stated: AlkalinityLowAct, Side: Below, Band: Act, Label: "danger of a pH crash below", Source: "azeah-alkalinity", Locator: "second paragraph", Basis: "published"},
		{Reading: Alkalinity, Stated: AlkalinityLowWatch, Side: Below, Band: Watch, Label: "healthy from here", Source: "azeah-alkalinity", Locator: "first paragraph", Basis: "published"},
		{Reading: Alkalinity, Stated: AlkalinityHighWatch, Side: Above, Band: Watch, Label: "more is of no use", Source: "srac-464", Locator: "as repeated", Basis: "published"},

		{Reading: Temperature, Stated: ColdAct, Side: Below, Band: Act, Basis: "practice"},
		{Reading: Temperature, Stated: ColdWatch, Side: Below, Band: Watch, Basis: "practice"},
		{Reading: Temperature, Stated: WarmWatch, Side: Above, Band: Watch, Source: "petfishdoc-chem", Locator: "temperature", Basis: "published"},
		{Reading: Temperature, Stated: WarmAct, Side: Above, Band: Act, Source: "eu-2006-44", Locator: "Annex I", Basis: "memory"},

		{Reading: Nitrate, Stated: 3, As: AsN, Label: "British Columbia, thirty-day mean for all wild life", Source: "bc-wqg-2014", Locator: "Table B3", Basis: "published"},
		{Reading: Nitrate, Stated: NitrateWatch, Side: Above, Band: Watch, Label: "change more from here", Source: "oata-2008", Locator: "water quality criteria", Basis: "memory"},
		{Reading: Nitrate, Stated: 80, Label: "carp, maximum admissible", Source: "svobodova-1993", Locator: "EIFAC Technical Paper 54", Basis: "memory"},
		{Reading: Nitrate, Stated: NitrateAct, Side: Above, Band: Act, Label: "too much: review stock and feed", Basis: "practice"},
		{Reading: Nitrate, Stated: NitrateNoHarm, As: AsN, Label: "no harm seen to warm-water fish", Source: "cwcb-97415", Locator: "section 4.3.1", Basis: "published"},

		{Reading: TotalAmmonia, Stated: FirstKitStep, Side: Above, Band: Watch, Basis: "practice"},

		{Reading: CarbonDioxide, Stated: CarbonDioxideNone, Label: "no effect below", Source: "no-effect-limits", Locator: "table", Basis: "published"},
		{Reading: CarbonDioxide, Stated: CarbonDioxideMost, Label: "borne only with oxygen near saturation", Source: "urdes-2021", Locator: "1.3.2.16", Basis: "published"},

		{Reading: Salt, Stated: ChlorideShield, As: AsChloride, Label: "chloride kept against nitrite in catfish ponds", Source: "srac-462", Locator: "text", Basis: "published"},
		{Reading: Salt, Stated: 1, Label: "eases stress, from", Source: "salt-reference-page", Locator: "text", Basis: "published"},
		{Reading: Salt, Stated: SaltPond, Label: "hobby's pond level", Basis: "practice"},
		{Reading: Salt, Stated: SaltStrongest, Label: "like the sea: minutes only", Source: "francis-floyd-vm86", Locator: "text", Basis: "published"},

		{Reading: Lift, Stated: LiftOverhead, Label: "first filter for a woman, above the shoulder, close to the body", Source: "hse-indg143", Locator: "Figure 1 lifting and lowering filter", Basis: "memory"},
		{Reading: Lift, Stated: LiftAlone, Label: "the same, at the waist", Source: "hse-indg143", Locator: "Figure 1 lifting and lowering filter", Basis: "memory"},
		{Reading: Lift, Stated: LiftMan, Label: "for a man, at the waist", Source: "hse-indg143", Locator: "Figure 1 lifting and lowering filter", Basis: "memory"},
	}
}
