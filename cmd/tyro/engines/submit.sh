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
  wait=--wait
  shift
fi
cd {{.Here}} || exit
tasks=$(sh {{.Folder}}/missing.sh) || exit
tasks=$(echo "$tasks" | paste -sd, -)

array() {
  sbatch --array="$tasks" --output={{.Logs}}/task-%a.%A.log "$@" {{.Folder}}/array.sbatch
}
merge() {
  sbatch --output={{.Logs}}/merge.%j.log "$@" {{.Folder}}/merge.sbatch
}
if [ -n "$wait" ] || [ -z "$tasks" ]; then
  [ -z "$tasks" ] || array --wait "$@" || exit
  merge $wait "$@"
  exit
fi
job=$(array --parsable "$@") || exit
echo "array of tasks $tasks: job $job"
merge --dependency="afterok:${job%%;*}" --kill-on-invalid-dep=yes "$@"
