"""All words of the page that shows one step at a time, in one place."""

from __future__ import annotations

from guidegen.language import marked

WORDS: dict[str, str] = {
    "title": marked("One step at a time"),
    "lead": marked(
        "For the phone at the bench: one step fills the screen, with its hazards first. Hold points want their "
        "readings, and at the end you have a build report to copy. Nothing is sent: it all stays on this device, under "
        "a case number."
    ),
    "begin": marked("Begin"),
    "open": marked("Open a file"),
    "withdrawn": marked("This guide was withdrawn: the notice at its head says why. Do not begin, and do not go on."),
    "choose_case": marked("Choose your case first."),
    "lost": marked("The scripts for this could not be loaded."),
    "case": marked("Case {number}"),
    "kept": marked("Case {number}: step {step}, last worked on {time}"),
    "go_on_with": marked("Go on with case {number}"),
    "forget": marked("Delete case {number}"),
    "forget_sure": marked("Delete case {number} from this device? It cannot be brought back."),
    "elsewhere": marked("This case was changed in another window. Go on there, or here once you are done there."),
    "not_kept": marked("This device keeps nothing: save the case to a file before you close the page."),
    "no_file": marked("This file is not a case of this instruction."),
    "other_edition": marked("This file belongs to edition {edition}. Open it on the page of that edition."),
    "leave": marked("Whole page"),
    "save": marked("Save to a file"),
    "phases": marked("Phases"),
    "phase_done": marked("{phase}: done"),
    "phase_now": marked("{phase}: now"),
    "phase_ahead": marked("{phase}: still to come"),
    "where": marked("{phase}: step {step}"),
    "count": marked("{done} of {all} steps done"),
    "how": marked("How and why"),
    "back": marked("Back"),
    "next": marked("Next"),
    "passed": marked("Passed, next"),
    "failed": marked("It failed"),
    "was_done": marked("This step is done. Next leads back to where you are."),
    "again_note": marked("This step comes again before you go on."),
    "moved": marked("It is not as it was left"),
    "reading": marked("{what} ({unit})"),
    "for_sheet": marked("{what}: for your record sheet"),
    "no_reading": marked("Write the reading as a number, as in {limit}."),
    "outside": marked("{reading} is not within the limit: {limit}. Correct the reading, or say that the check failed."),
    "look_first": marked("Tick each thing that you looked at."),
    "name": marked("Name of the electrically skilled person"),
    "no_name": marked("This step is for an electrically skilled person: write whose work it was. The name stays here."),
    "no_signature": marked("Write who signed, and when. Without that signature you do not go on."),
    "start_timer": marked("Start the clock"),
    "ends": marked("Ends at {time} by this device's clock, {left} left. The page cannot wake you."),
    "over": marked("Over since {time}."),
    "not_over": marked("The wait is not over."),
    "other_clock": marked("I kept the time by another clock"),
    "jumped": marked("The clock of this device was changed: the wait for safety begins again."),
    "stop_title": marked("After {phase}"),
    "stop": marked("You can stop here."),
    "stop_later": marked("When you come back, the next phase begins by making sure again:"),
    "stop_now": marked("Stop here"),
    "stopped": marked("Stopped. The case is kept as number {number}."),
    "on": marked("Go on"),
    "away_title": marked("You were away"),
    "away": marked("Somebody may have been at the machine since {time}. Before you go on, these steps come again:"),
    "unknown": marked(
        "Nobody can say how the machine is after you were away here. Cut it off from the mains first. Then ask before "
        "you go on: {contact}."
    ),
    "phase_again": marked("Begin this phase again"),
    "halted_title": marked("Stop"),
    "try_again": marked("Go back to the check"),
    "end_title": marked("The work is done"),
    "end_lead": marked(
        "A build report tells the maker and other owners how it went. Look through it, copy it, and send it if you "
        "like. Write no name, no address and no serial number into it."
    ),
    "draft": marked("This page is a draft. A report is accepted for a published edition only."),
    "finished": marked("Finished on"),
    "doer": marked("Carried out by"),
    "owner": marked("the owner"),
    "workshop": marked("a repair workshop"),
    "maker": marked("the maker of the kit"),
    "signer": marked("Signed before the power came on by"),
    "skilled": marked("an electrically skilled person"),
    "nobody": marked("nobody"),
    "publish": marked("The report may be published"),
    "minutes": marked("Minutes of work, waits left out"),
    "failures": marked("What failed"),
    "helped": marked("What helped with step {step}?"),
    "facts": marked("Measured or seen on this machine without the kit, as in 26 mm ± 1 mm"),
    "noticed": marked("Also noticed, a line each"),
    "report": marked("Build report"),
    "copy": marked("Copy"),
    "copied": marked("Copied."),
    "copy_failed": marked("Could not copy: the text is selected, copy it by hand."),
}

WORDS_OF_THE_WAY_BACK: dict[str, str] = {
    "lead": marked(
        "For the phone at the bench: one step fills the screen, with its hazards first. Hold points want their "
        "readings, and at the end they stand in the record of this page. Nothing is sent: it all stays on this device, "
        "under a case number."
    ),
    "end_lead": marked(
        "Your readings stand in the record at the end of the whole page: print it and keep it with the machine. Nobody "
        "needs a report of this work."
    ),
}
"""What it says otherwise where the kit comes off again."""
