package liquid

import "math"

// OriginalGravity returns the gravity of the must that, fermented to a gravity of now,
// holds abv % vol: the balance of AlcoholByBalance the other way round. It is what a
// blend of wines has in place of a start of its own; a sweetened or watered wine gets
// the start that leaves the sugar it holds. Range: now 0.975 to 1.200, abv from what
// pure water would have to make (0 where now is above 1) to what a must of 1.200 makes;
// else a *RangeError. Source: the balance, solved for its start by bisection, since
// more sugar at the start always means more alcohol at the same gravity. Example: 0.995
// with 12.72 % vol was 1.090.
func OriginalGravity(now Gravity, abv PercentVol) (Gravity, error) {
	if err := Within("gravity", float64(now), float64(LowestGravity), float64(HighestGravity), "", sourceBalance); err != nil {
		return 0, err
	}
	low, high := max(now, 1), HighestGravity
	if abv == 0 && now >= 1 {
		return now, nil // nothing fermented
	}
	least, most := alcoholNear(low, now), alcoholNear(high, now)
	if now >= 1 {
		least = 0
	}
	if err := Within("alcohol", float64(abv), least, most, "% vol", sourceBalance); err != nil {
		return 0, err
	}
	for math.Abs(float64(high-low)) > 1e-8 {
		if mid := (low + high) / 2; alcoholNear(mid, now) < float64(abv) {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2, nil
}
