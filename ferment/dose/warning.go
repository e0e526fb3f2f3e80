package dose

import "mustbook/ferment/liquid"

// Warning is a code of something to beware of, to be put into words by whoever
// answers.
type Warning string

// The warnings.
const (
	StrongMust        Warning = "strong must"         // above 1.110 yeast labours (common practice)
	HoneyVaries       Warning = "honey varies"        // 80 % sugar is a rule of thumb
	WeakensMust       Warning = "weakens must"        // water takes acid and taste down too
	TrialFirst        Warning = "trial first"         // try it in a measured glass
	OverAcidLimit     Warning = "over acid limit"     // more tartaric than the OIV lets add to a must
	OverTotalAcid     Warning = "over total acid"     // above 9 g/L as tartaric
	TooMuchAtOnce     Warning = "too much at once"    // more than 2 g/L of bicarbonate
	RoughPH           Warning = "rough pH"            // the pH's doubt moves the figure by a quarter or more
	LowPH             Warning = "low pH"              // below 3.0
	LargeSulphite     Warning = "large sulphite dose" // one addition above 100 mg/L
	HighTotalSulphite Warning = "high total sulphite" // running total above 150 mg/L
	PartBinds         Warning = "part binds"          // not all that is added shows as free
	TooSmallToWeigh   Warning = "too small to weigh"
	TabletsVary       Warning = "tablets vary"
	SpoonEstimate     Warning = "spoon estimate"
	WeighBelowTen     Warning = "weigh below ten litres" // no spoons into less than 10 L
	NeedsSulphite     Warning = "needs sulphite"         // sorbate goes in with sulphite only
	SorbateCapped     Warning = "sorbate capped"
	Geranium          Warning = "geranium" // sorbate where malolactic bacteria live
	NutrientCapped    Warning = "nutrient capped"
	NitrogenAssumed   Warning = "nitrogen assumed" // not measured
	TooLateToFeed     Warning = "too late to feed" // two thirds of the sugar gone
	NeedsStabilising  Warning = "needs stabilising"
	MeasureAgain      Warning = "measure again" // pH is never averaged, free SO2 drifts
	NeverStillGlass   Warning = "never in still glass"
	OverGlassLimit    Warning = "over glass limit"
	OverWorkLimit     Warning = "over workplace limit"
	DangerousAir      Warning = "dangerous air"
)

// Volumes that a household, or a small cellar, works with, in litres.
const mostLitres = 100_000

// StrongFrom is the gravity above which a must is called strong (common practice).
const StrongFrom liquid.Gravity = 1.110

func checkVolume(v liquid.Litres) error {
	return liquid.Within("volume", float64(v), 0.001, mostLitres, "L", "bench arithmetic")
}

// firstError returns the first error that is not nil.
func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// warn appends w where it holds.
func warn(ws []Warning, holds bool, w Warning) []Warning {
	if holds {
		return append(ws, w)
	}
	return ws
}
