"""Synthetic exits: the same people, things, looks, decision and interruptions, and as many steps as one likes.

Two pairs of gloves and an apron come off at the end. Before that the wearer smooths the apron down again and again, and each
time there is a look at the gloves and the apron, a disinfection and a decision. However long that is, what a run can be in at any step is the same, so a walk ought
to take time and memory in proportion to the steps.
"""

HEAD = """stepward 1 protocol
document
  title "An exit of {steps} steps"
  number SYN-{steps}
  version 1.0
end document
use library standard "layered-equipment"
use library standard "disinfectants"
use library standard "team"
people
  wearer begins in care room wearing scrubs, clogs, inner gloves, plastic apron, outer gloves
  observer begins in exit area wearing scrubs, clogs, inner gloves
  observer ends dressed, continue with SYN-1
  wearer acts unless a line names someone else
end people
endings
  done is normal
    wearer is in exit area
    wearer wears scrubs, clogs, inner gloves
  early exit is emergency
end endings
any time observer touched wearer
  happens observer touches wearer
  observer disinfects hands with strong chlorine
  disinfect hands with strong chlorine
  resume
end any time
any time alarm sounds
  happens nothing of its own
  act "Stop and leave."
  finish as early exit
end any time
phase "Come off"
  move to exit area
"""
ROUND = """  act "Smooth the apron down." touching bib of plastic apron
  observer inspects outer gloves for soil
    say "Show me your hands."
  if soil on outer gloves
    clean soil from outer gloves using wipe from the top down
    disinfect outer gloves with strong chlorine
  end if
  disinfect hands with strong chlorine
  observer inspects plastic apron for soil
  decide pace as slow or steady
  if pace is slow
    act "Breathe."
  end if
"""
TAIL = """  disinfect hands with strong chlorine
  take off plastic apron
  disinfect hands with strong chlorine
  take off outer gloves
  disinfect hands with strong chlorine
  finish as done
end phase
"""
STEPS_OF_A_ROUND, STEPS_OF_THE_REST = 8, 9


def exit_of(steps, changed=None):
    """Its text and how many steps it has. `changed`: the round in which one word is another."""
    rounds = max(1, round((steps - STEPS_OF_THE_REST) / STEPS_OF_A_ROUND))
    body = [ROUND] * rounds
    if changed is not None:
        body[changed % rounds] = ROUND.replace("Breathe.", "Breathe in.")
    return HEAD.format(steps=steps) + "".join(body) + TAIL, rounds * STEPS_OF_A_ROUND + STEPS_OF_THE_REST
