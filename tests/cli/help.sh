# --help of every command, each with one worked example.
. "$(dirname "$0")/lib.sh"

runs 0 "check" "mend" "order" "print" "fresh" "new" "graph" "slips" "mix" "tidy" "words" "explain" "dump" "library" "Exit codes" "Example:" -- --help
for command in check mend order print fresh new graph slips mix tidy words explain dump library; do
  runs 0 "Usage: stepward $command" "Example" "stepward $command" -- $command --help
  runs 0 "Usage: stepward $command" -- help $command
done
finished
