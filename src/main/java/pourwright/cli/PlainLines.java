package pourwright.cli;

import java.io.PrintWriter;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import pourwright.coach.Cue;
import pourwright.session.Audience;
import pourwright.session.LaneView;
import pourwright.session.LinkView;
import pourwright.session.Phase;
import pourwright.session.RehearsalView;

/** Tells a rehearsal line by line, where there is no terminal to draw on. */
final class PlainLines implements Audience {
  private final PrintWriter out;
  private final Map<Integer, Phase> phases = new HashMap<>();
  private final Map<Integer, Integer> cues = new HashMap<>();
  private final Set<String> losses = new HashSet<>();
  private List<String> notices = List.of();

  PlainLines(PrintWriter out) {
    this.out = out;
  }

  @Override
  public void see(RehearsalView view) {
    view.notices().stream().filter(notice -> !notices.contains(notice)).forEach(this::say);
    notices = view.notices();
    for (LaneView lane : view.lanes()) {
      String name = view.lanes().size() == 1 ? "" : lane.brewer() + ": ";
      if (lane.phase() != phases.put(lane.number(), lane.phase())) {
        say(name + phase(lane.phase()));
      }
      lane.links().forEach(link -> link(name, link));
      int known = cues.getOrDefault(lane.number(), 0);
      for (Cue cue : lane.cues().subList(known, lane.cues().size())) {
        String clock = lane.planClock(cue.at()).map(Words::clock).orElse("-:--");
        say(name + clock + "  " + cue.say());
      }
      cues.put(lane.number(), lane.cues().size());
    }
    out.flush();
  }

  private void link(String name, LinkView link) {
    String key = link.stand().word();
    if (link.loss().isPresent() && losses.add(key)) {
      say(name + "scale lost: " + link.loss().get().why());
    } else if (link.loss().isEmpty() && losses.remove(key)) {
      say(name + "scale is back");
    }
  }

  private static String phase(Phase phase) {
    return switch (phase) {
      case LOOKING_FOR_SCALE -> "waiting for the scale";
      case SETTLING -> "scale heard; put everything on, tare and let it come to rest";
      case ARMED -> "ready: the first water starts the clock";
      case RUNNING -> "running";
      case FINISHED -> "finished";
    };
  }

  private void say(String line) {
    out.println(line);
  }
}
