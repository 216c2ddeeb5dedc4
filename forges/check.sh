#!/bin/sh
# For any build server, and by hand: check the procedures of this folder, and say what they mean that they did not mean at a revision.
#
#   forges/check.sh [REVISION]
#
# Ends with 0 where all is well, 1 where there is an error, 2 where something could not be read or compared.
set -eu
status=0
dwell check || status=$?
if [ $# -gt 0 ]; then
  echo
  dwell compare "$1" || [ $? -le 1 ] || status=2
fi
exit "$status"
