package shard_test

import (
	"bytes"
	"context"
	"fmt"

	"tyro/analysis/resample"
	"tyro/analysis/shard"
)

// Five squares are computed by two runs, of which the second does the items at positions 1 and
// 3; a third run takes what both parts hold.
func Example() {
	squares := func(l *shard.Ledger) ([]int, error) {
		return resample.Items(context.Background(), 5, resample.Sampling{Ledger: l}, "squares", func() func(int) (int, error) {
			return func(i int) (int, error) { return i * i, nil }
		})
	}
	var parts []shard.Part
	for i := 1; i <= 2; i++ {
		l := shard.Making(shard.Cut{Shard: i, Of: 2})
		_, err := squares(l)
		fmt.Println(err)
		var file bytes.Buffer
		l.Write(&file, shard.Run{Words: []string{"squares"}})
		part, _ := shard.ReadPart("part", &file)
		parts = append(parts, part)
	}
	l, _, err := shard.Join(parts)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(squares(l))
	// Output:
	// the shard is done
	// the shard is done
	// [0 1 4 9 16] <nil>
}
