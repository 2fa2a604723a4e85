#!/bin/sh
# Runs check_pages.mjs: sh pages.sh NODE PROGRAM SOURCE-TREE CHROMIUM
# No browser starts without /proc, which a bare chroot has not. There it is mounted for the time of the test, where nobody
# else sees it; where that is not allowed either, the test says so and ends with 77, which ctest shows as "Skipped".
set -eu
node=$1
shift
check=$(dirname "$0")/check_pages.mjs
if [ -e /proc/self/exe ]; then exec "$node" "$check" "$@"; fi
if unshare --mount sh -c 'mount -t proc proc /proc' 2>/dev/null; then
  exec unshare --mount sh -c 'mount -t proc proc /proc && exec "$@"' - "$node" "$check" "$@"
fi
echo "NOT CHECKED: there is no /proc here and none may be mounted, so no browser starts and no web page was looked at"
exit 77
