#!/bin/sh
# Lists the tasks that have shards without a whole part, one a line.
cd {{.Here}} || exit
mkdir -p {{.Parts}} {{.Logs}} || exit
shards=$("${TYRO:-tyro}" merge {{.Parts}} --missing {{.Shards}}) || exit
for shard in $shards; do
  echo $(( (shard - 1) / {{.PerTask}} + 1 ))
done | uniq
