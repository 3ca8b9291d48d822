package synthetic

import "os"

// Of is how many of the seeds of a long test are run: all of them with PARTSALOFT_LONG set, else a third.
func Of(seeds int) int {
	if os.Getenv("PARTSALOFT_LONG") != "" {
		return seeds
	}
	return max(1, seeds/3)
}
