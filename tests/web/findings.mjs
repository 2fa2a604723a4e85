// What was found so far, told as it is found.
let count = 0;

export function failure(where, what) {
  ++count;
  console.log(`NOT AS EXPECTED: ${where}: ${what}`);
}

export function failures() {
  return count;
}

export function say(words) {
  console.log(words);
}
