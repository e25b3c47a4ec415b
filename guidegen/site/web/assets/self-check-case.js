/* From the self-check to the instruction of its case: what was answered, and what the chosen remedies bring about, say
   which it is. */
(function () {
  "use strict";

  /* The address of the instruction, with its case where one alone is left; null where there is no instruction. */
  function instructionOf(payload, said, chosen) {
    var leads = payload.instruction;
    if (!leads) return null;
    var known = said.concat(
      (chosen ? chosen.remedies : []).map(function (id) {
        return payload.makes[id];
      })
    );
    var left = Object.keys(leads.cases).filter(function (id) {
      return leads.cases[id].every(function (part) {
        return known.indexOf(part) >= 0;
      });
    });
    return left.length === 1 ? leads.href + "?case=" + encodeURIComponent(left[0]) : leads.href;
  }

  window.guidegenSelfCheckCase = instructionOf;
})();
