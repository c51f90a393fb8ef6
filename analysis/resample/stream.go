// Package resample draws random streams, bootstrap and permutation samples and
// turns replicates into intervals.
//
// # Reproducibility
//
// Every replicate has its own stream, named by (seed, purpose, replicate). The
// numbers therefore do not depend on the number of workers, on the order of
// work, or on how the replicates are cut into shards.
//
// # Methods
//
// Bootstrap and its percentile, basic and bias-corrected accelerated intervals:
// Efron and Tibshirani (1993), An Introduction to the Bootstrap, chapters 13
// and 14; Davison and Hinkley (1997), Bootstrap Methods and their Application,
// chapter 5. Replicates may be infinite (a level that is never reached); no
// method here takes a mean of them.
package resample

import (
	"crypto/sha256"
	"encoding/binary"
	"math/rand/v2"
)

// Generator names the random generator, for reports.
const Generator = "ChaCha8"

// Stream is the random stream of one replicate of one purpose.
func Stream(seed uint64, purpose string, replicate int) *rand.Rand {
	return rand.New(rand.NewChaCha8(streamKey(seed, purpose, replicate)))
}

func streamKey(seed uint64, purpose string, replicate int) [32]byte {
	msg := make([]byte, 16, 16+len(purpose))
	binary.LittleEndian.PutUint64(msg, seed)
	binary.LittleEndian.PutUint64(msg[8:], uint64(replicate))
	return sha256.Sum256(append(msg, purpose...))
}
