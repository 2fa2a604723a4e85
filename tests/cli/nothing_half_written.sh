# A run that fails leaves the files that were there as they were, and no temporary ones.
. "$(dirname "$0")/lib.sh"

small_protocol >small.ward
left_behind() { find . -name '.*.part' | grep -q .; }

runs 0 -- graph small.ward --as json -o graph.json
cp graph.json before.json
runs 3 "cannot write" -- graph small.ward --as json -o missing/graph.json
mkdir is_a_folder
runs 3 "a folder of that name" -- graph small.ward --as json -o is_a_folder
sed 's/take off plastic apron/take off plastic apro/' small.ward >misspelt.ward
runs 1 "" -- graph misspelt.ward --as json -o graph.json
is_true "an error leaves the old graph alone" cmp graph.json before.json

# A full disk: the device that is always full, and, where one may be mounted, a file system that is full.
is_true "there is /dev/full here, or it is made" test -c /dev/full -o ! -e /dev/full
if [ -c /dev/full ]; then
  "$stepward" check small.ward >/dev/full 2>answer.err
  is_true "an answer that cannot be written is trouble with a file" test $? = 3
  runs 3 "the disk is full" -- graph small.ward --as json -o /dev/full
fi
# The limit on the size of files stands in for a full file system where none can be made.
(
  trap '' XFSZ
  ulimit -f 1
  "$stepward" graph small.ward --as graphml -o graph.json
) >answer.out 2>answer.err
is_true "a write that stops half way is trouble with a file" test $? = 3
is_true "it leaves the old graph alone" cmp graph.json before.json
if small_disk 16k; then
  echo old >small_disk/graph.json
  awk 'BEGIN { for (i = 0; i < 4000; i++) printf "abc" }' >small_disk/filler 2>/dev/null
  runs 3 "the disk is full" -- graph small.ward --as json -o small_disk/graph.json
  is_true "the old file is still there" grep -q old small_disk/graph.json
  remove_small_disk
fi

if [ "$(id -u)" != 0 ]; then
  mkdir sealed
  chmod a-w sealed
  runs 3 "may not" -- graph small.ward --as json -o sealed/graph.json
fi
is_true "no temporary file is left" test -z "$(find . -name '.*.part')"
finished
