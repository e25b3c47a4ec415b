/* The text of a build report: writes what judge/builds/report.py in guidegen writes; tests compare the two. */
(function () {
  "use strict";

  var RESULTS = { passed: "passed", failed: "failed", "not-done": "not done" };
  var DOERS = { owner: "the owner", workshop: "a repair workshop", maker: "the maker of the kit" };
  var SIGNERS = { "electrically-skilled": "an electrically skilled person", nobody: "nobody" };

  function result(one, what) {
    var said = (one.reading ? one.reading + ", " : "") + RESULTS[what];
    return one.number + " " + one.step + " = " + said;
  }

  function write(report) {
    var sections = [
      ["Hold points:", report.readings.map(function (one) { return result(one, one.result); })],
      ["Minutes of work in each phase:", report.minutes.map(function (one) { return one[0] + " = " + one[1]; })],
      ["What failed, and what helped:", report.failures.flatMap(function (one) {
        return [result(one, "failed"), "helped: " + (one.helped || "nothing yet")];
      })],
      ["Measured on this machine:", report.facts.map(function (one) { return one[0] + " = " + one[1]; })],
      ["Also noticed:", report.findings.map(function (one) { return "- " + one; })],
    ];
    var lines = [
      "Build report",
      "Machine: " + report.variant + " (" + report.variant_name + ")",
      "Kit: " + report.kit + ", revision " + report.revision + " (" + report.kit_name + ")",
      "Edition: " + report.edition,
    ].concat(
      report.case.map(function (one) { return "Case: " + one; }),
      "Finished on: " + report.finished,
      "Carried out by: " + DOERS[report.doer],
      "Signed before power came on by: " + SIGNERS[report.signer],
      "May be published: " + (report.publish ? "yes" : "no")
    );
    sections.forEach(function (section) {
      if (section[1].length) lines.push("", section[0]);
      lines = lines.concat(section[1]);
    });
    return lines.concat("", "End of the build report").join("\n") + "\n";
  }

  window.guidegenReport = write;
})();
