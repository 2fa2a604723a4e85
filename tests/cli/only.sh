# --only: by name, by parts, and what it answers when that is not enough.
. "$(dirname "$0")/lib.sh"

example=$tree/examples/aldermoss-entry.ward
day="--today 2030-11-01"
# shellcheck disable=SC2086
{
  runs 0 "looked at gown · face shield · boot covers only (1 of 6 variants)" -- check "$example" $day --only "gown · face shield · boot covers"
  says_not "checked"
  runs 0 "looked at gown · face shield · boot covers only" -- check "$example" $day --only "boot covers, gown"
  runs 0 "looked at coverall · goggles · rubber boots only" -- check "$example" $day --only "Coverall with goggles, rubber boots"
  runs 0 "looked at coverall · goggles · rubber boots only" -- check "$example" $day --only coverall-goggles-rubber-boots
  runs 2 "no variant is called \"poncho\"" "gown · face shield · rubber boots" -- check "$example" $day --only poncho
  runs 2 "fits 4 variants" "coverall · goggles · boot covers" -- check "$example" $day --only coverall
  runs 2 "no variant is called \"gown, goggles\"" -- check "$example" $day --only "gown, goggles"
  runs 0 "" -- graph "$example" --as json --only "gown, boot covers" -o one.json
}
is_true "the graph holds one variant" test "$(grep -c '"choices"' one.json)" = 1
small_protocol >small.ward
runs 2 "has no variants" -- check small.ward --only gown
finished
