#!/bin/sh
# Does the missing shards on this machine with GNU parallel, and joins the parts:
#
#   sh parallel.sh [flags of parallel, such as --jobs 4]
#
# Ends with 1 where a task failed, and joins nothing then; the same command does what is missing.
cd {{.Here}} || exit
tasks=$(sh {{.Folder}}/missing.sh) || exit
if [ -n "$tasks" ]; then
  echo "$tasks" | parallel "$@" --joblog {{.Logs}}/parallel.log sh {{.Folder}}/shard.sh '{}' || exit 1
fi
exec sh {{.Folder}}/merge.sh --out {{.Folder}}/answer.txt
