package schedule

// batchRules and houseRules are the rules in the order of the table.
var (
	batchRules []finder
	houseRules []finder
)

// The rules call Plan for the list of a holiday, which walks these lists: they are
// filled here to break the circle.
func init() {
	batchRules = []finder{
		{"R01", waitOver}, {"R02", startGravity}, {"R03", startCheck}, {"R04", secondCheck}, {"R05", noStart},
		{"R06", stir}, {"R07", primaryReading}, {"R08a", nutrientSteps}, {"R08b", sugarSteps}, {"R09", primaryCheck},
		{"R10", readyToRack}, {"R11", strain}, {"R12a", hot}, {"R12b", heating}, {"R12c", tooFast},
		{"R14", coldFirst}, {"R15", stuck}, {"R16", secondaryReading}, {"R17", secondReading}, {"R18", closingReading},
		{"R19", stabilise}, {"R20", secondSubstance}, {"R21", degasAgain}, {"R22", secondFining}, {"R23", isItClear},
		{"R24", malolacticTest}, {"R25", malolacticDone}, {"R26", rackAgain}, {"R27", topUp}, {"R29", sulphiteTest},
		{"R30", phUnknown}, {"R31", outOfTheCold}, {"R32", afterSweetening}, {"R33", afterBlending}, {"R34", bottlingDay},
		{"R35", notSafe}, {"R36", layDown}, {"R37", earlyWarning}, {"R38", labels}, {"R39", firstTasting},
		{"R40", atItsBest}, {"R41", silent}, {"R44", guests}, {"R45", ventilate}, {"R49", oak}, {"R50", own},
		{"R51", restartCheck},
	}
	houseRules = []finder{
		{"R13", heatWave}, {"R28", airlocks}, {"R42", handover}, {"R43", welcome}, {"R46", yearTotal},
		{"R47", instruments}, {"R48", tubs}, {"R50", houseOwn}, {WeeklyID, roundUp},
	}
}
