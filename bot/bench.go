package bot

import (
	"mustbook/bot/parse"
	"mustbook/ferment"
)

// bench answers what is worked out for a batch: doses, blends, bottles.
func (t *turn) bench(_ parse.Intent, _ *ferment.State) ([]string, bool) { return nil, false }
