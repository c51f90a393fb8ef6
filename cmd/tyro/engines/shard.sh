#!/bin/sh
# Does the shards of one task, one after the other: sh shard.sh TASK. A shard whose part is
# there already is not done again. Ends with the status of the first shard that failed; the
# task's other shards are done all the same.
task=$1
cd {{.Here}} || exit
tyro=${TYRO:-tyro}
status=0
shard=$(( (task - 1) * {{.PerTask}} + 1 ))
last=$(( task * {{.PerTask}} ))
[ "$last" -le {{.Shards}} ] || last={{.Shards}}
while [ "$shard" -le "$last" ]; do
  part={{.Parts}}/$(printf '%0{{.Digits}}d' "$shard")-of-{{.Shards}}.part
  "$tyro" {{.Flags}} --shard "$shard/{{.Shards}}" --out "$part" -- {{.Args}}
  one=$?
  if [ "$one" -ne 0 ]; then
    echo "shard $shard failed with status $one" >&2
    [ "$status" -ne 0 ] || status=$one
  fi
  shard=$(( shard + 1 ))
done
exit "$status"
