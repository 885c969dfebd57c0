// Asks for the advice of one opening and prints what the carpenter needs.
// Types are all inferred, so that plain Node runs this file as well as a TypeScript build.
//   node --input-type=module - [http://127.0.0.1:8080] < examples/advise_one.ts

const address = process.argv[2] ?? "http://127.0.0.1:8080";
const opening = {
  mark: "D07",
  jurisdiction: "US",
  frame: { undercut: "1 in" },
  leaf: { width: "30 in", height: "80 in", thickness: "1 3/8 in", core: "hollow" },
  pull_side: {
    room: "bedroom 2",
    build_up: [
      { material: "carpet_cushion", thickness: "7/16 in" },
      { material: "carpet", thickness: "1/2 in" },
    ],
  },
  push_side: { room: "hall", build_up: [{ material: "vinyl_plank", thickness: "1/4 in" }] },
};

const answer = await fetch(`${address}/v1/openings/advice`, {
  method: "POST",
  headers: { "Content-Type": "application/json" },
  body: JSON.stringify(opening),
});
const body = await answer.json();
if (answer.ok) {
  console.log(body.summary);
  if (["go", "go_with_trim"].includes(body.verdict)) {
    console.log("legs at", body.setting.foot.text);
    console.log("trim", body.leaf.trim.text);
  } else {
    // hold or conflict: nobody sets or cuts by numbers that an answer or a decision may change
    for (const question of body.questions) console.log(`ask ${question.ask}: ${question.text}`);
    for (const conflict of body.conflicts)
      console.log(`${conflict.decides} decides: ${conflict.text}`, ...conflict.ways_out.map((way) => way.text));
  }
} else {
  console.error(body.detail);
  for (const error of body.errors ?? []) console.error(`${error.pointer}: ${error.detail}`);
  process.exitCode = 1;
}
export {};
