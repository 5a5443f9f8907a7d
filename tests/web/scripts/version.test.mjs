import assert from "node:assert/strict";
import { test } from "node:test";
import { isSame, whatIsIt } from "../../../monreq/web/scripts/src/page/version.js";

const at = (revision, moment) => ({ revision, as_of: moment });
const push = ([after, afterAsOf], [revision, asOf]) => ({
  after,
  after_as_of: afterAsOf,
  revision,
  as_of: asOf,
  client_ids: [],
  fragments: {},
});

for (const [name, from, to, page, expected] of [
  ["an event follows", [7, 100], [8, 110], [7, 100], "next"],
  ["events that were told together follow, though some are known", [7, 100], [9, 110], [8, 105], "next"],
  ["an event was read already", [7, 100], [8, 110], [8, 110], "known"],
  ["a later state was read already", [7, 100], [8, 110], [9, 100], "known"],
  ["an event was missed", [7, 100], [8, 110], [6, 90], "missed"],
  ["time alone changed something", [7, 100], [7, 130], [7, 100], "next"],
  ["what time alone changed was read already", [7, 100], [7, 130], [7, 130], "known"],
  ["what time alone changed later was read already", [7, 100], [7, 130], [7, 160], "known"],
  ["what time alone changed was overtaken by an event", [7, 100], [7, 130], [8, 120], "known"],
  ["what time alone changed before was missed", [7, 130], [7, 160], [7, 100], "missed"],
  ["an event before what time alone changed was missed", [7, 100], [7, 130], [6, 90], "missed"],
  ["an event follows on what time alone changed, and that was missed", [7, 130], [8, 140], [7, 100], "missed"],
  ["a page was read as of a later moment than all others", [7, 100], [8, 140], [7, 130], "missed"],
  ["a page was read at the revision, as of before", [7, 100], [8, 140], [8, 120], "missed"],
  ["what is whole is of no revision", [7, undefined], [7, undefined], [7, 130], "whole"],
  ["what is whole comes from where less is known", [6, undefined], [6, undefined], [7, 130], "whole"],
  ["what is whole comes from where more is known", [8, undefined], [8, undefined], [7, 130], "missed"],
  ["a phone is told an event", [7, undefined], [8, undefined], [7, 0], "next"],
  ["a phone read an event already", [7, undefined], [8, undefined], [8, undefined], "known"],
]) {
  test(name, () => assert.equal(whatIsIt(push(from, to), at(...page)), expected));
}

test("a phone's page that is told no moment is at the same as its connection", () => {
  assert.ok(isSame({ revision: 7 }, at(7, 0)));
  assert.ok(!isSame(at(7, 100), at(7, 130)));
});
