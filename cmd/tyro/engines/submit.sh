#!/bin/sh
# Submits the missing shards to Slurm as a job array, and the merge as a job that starts when
# all of them are done:
#
#   sh submit.sh [flags of sbatch]         submit, and say the numbers of the jobs
#   sh submit.sh --wait [flags of sbatch]  also wait; ends with the status of the worst task
#
# After tasks failed or a node died, the same command submits just what is missing. The answer
# is in {{.Folder}}/answer.txt; sh merge.sh gives it in other formats.
wait=
if [ "$1" = --wait ]; then
  wait=yes
  shift
fi
cd {{.Here}} || exit
tasks=$(sh {{.Folder}}/missing.sh) || exit
tasks=$(echo "$tasks" | paste -sd, -)
if [ -z "$tasks" ]; then
  echo "all parts are there" >&2
  merge=$(sbatch --parsable ${wait:+--wait} "$@" {{.Folder}}/merge.sbatch)
  status=$?
  echo "merge: job $merge"
  exit "$status"
fi
if [ -n "$wait" ]; then
  sbatch --wait --array="$tasks" "$@" {{.Folder}}/array.sbatch || exit
  exec sbatch --wait "$@" {{.Folder}}/merge.sbatch
fi
array=$(sbatch --parsable --array="$tasks" "$@" {{.Folder}}/array.sbatch) || exit
merge=$(sbatch --parsable --dependency="afterok:$array" --kill-on-invalid-dep=yes "$@" {{.Folder}}/merge.sbatch) || exit
echo "array: job $array, tasks $tasks; merge: job $merge"
