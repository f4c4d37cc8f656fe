package pourwright.web;

import java.io.IOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.CopyOnWriteArraySet;
import java.util.function.Consumer;
import org.jspecify.annotations.Nullable;
import pourwright.coach.Feedback;
import pourwright.session.Afterword;
import pourwright.session.Audience;
import pourwright.session.Command;
import pourwright.session.LaneView;
import pourwright.session.Notebook;
import pourwright.session.Outcome;
import pourwright.session.Phase;
import pourwright.session.RehearsalView;
import pourwright.session.RunStart;
import pourwright.units.Mass;

/**
 * What every client is shown: the present run, its newest view, its trace and, once it is over, its
 * outcome. Lives through several runs, one after the other.
 *
 * <p>In a blind run no weight leaves this class before the brewer's own estimate has come in, so
 * that neither a second tab nor another program can peep.
 */
public final class LivePage implements Audience, Subscriber.Pages {
  private final Set<Subscriber> subscribers = new CopyOnWriteArraySet<>();
  private final Map<Integer, Track> tracks = new HashMap<>();
  private final Map<Integer, Map<Integer, Mass>> estimates = new TreeMap<>();
  private final Map<Integer, Afterword> afterwords = new TreeMap<>();
  private int run;
  private Consumer<Command> brewer = command -> {};
  private Notebook notebook = afterword -> {};
  private @Nullable RunStart start;
  private @Nullable RehearsalView view;
  private @Nullable String viewText;
  private @Nullable Outcome outcome;
  private int outcomeVersion;
  private boolean isRevealed;

  /**
   * Shows a new run from now on.
   *
   * @param rehearsal takes the brewer's commands
   * @param notes takes what the brewer adds after the run
   */
  public void begin(RunStart starting, Consumer<Command> rehearsal, Notebook notes) {
    synchronized (this) {
      run++;
      start = starting;
      brewer = rehearsal;
      notebook = notes;
      view = null;
      viewText = null;
      outcome = null;
      outcomeVersion = 0;
      isRevealed = false;
      tracks.clear();
      estimates.clear();
      afterwords.clear();
      starting.lanes().forEach(lane -> tracks.put(lane.number(), new Track()));
    }
    nudgeAll();
  }

  @Override
  public void see(RehearsalView newest) {
    synchronized (this) {
      view = newest;
      viewText = null;
      for (LaneView lane : newest.lanes()) {
        Track track = tracks.get(lane.number());
        if (track != null && lane.phase().compareTo(Phase.ARMED) >= 0) {
          lane.outlook().ifPresent(outlook -> track.add(outlook.at(), outlook.poured()));
        }
      }
    }
    nudgeAll();
  }

  @Override
  public void conclude(Outcome result) {
    synchronized (this) {
      outcome = result;
      outcomeVersion++;
    }
    nudgeAll();
  }

  /** Whether anyone looks at the page now. */
  public boolean isWatched() {
    return !subscribers.isEmpty();
  }

  int watchers() {
    return subscribers.size();
  }

  @Override
  public void join(Subscriber subscriber) {
    subscribers.add(subscriber);
  }

  @Override
  public void leave(Subscriber subscriber) {
    subscribers.remove(subscriber);
  }

  void dismissAll(String why) {
    subscribers.forEach(subscriber -> subscriber.dismiss(why));
  }

  private void nudgeAll() {
    subscribers.forEach(Subscriber::nudge);
  }

  /** A command of the brewer, from any client. */
  void obey(Command command) throws BadMessage, IOException {
    Optional<Afterword> late = Optional.empty();
    Consumer<Command> taker;
    synchronized (this) {
      requireRun();
      if (command instanceof Command.Estimate guess) {
        estimates
            .computeIfAbsent(guess.lane(), lane -> new TreeMap<>())
            .put(guess.pour(), guess.poured());
        viewText = null;
        if (outcome != null) {
          outcomeVersion++;
          late = Optional.of(afterword(guess.lane()));
        }
      } else if (outcome != null) {
        throw new BadMessage("The run is over and kept; there is nothing more to command.");
      }
      taker = brewer;
    }
    if (late.isPresent()) {
      keep(late.get());
    } else {
      taker.accept(command);
    }
    nudgeAll();
  }

  /** Shows the truth of a blind run without waiting for the rest of the estimates. */
  void reveal() throws BadMessage {
    synchronized (this) {
      requireRun();
      if (outcome == null) {
        throw new BadMessage("A blind run shows nothing before its end.");
      }
      isRevealed = true;
      outcomeVersion++;
    }
    nudgeAll();
  }

  /** What the brewer adds to a lane of the finished run. */
  void addAfterword(int lane, OptionalDouble strengthPercent, Optional<String> note)
      throws BadMessage, IOException {
    Afterword afterword;
    synchronized (this) {
      requireRun();
      if (outcome == null) {
        throw new BadMessage("The run is not over yet.");
      }
      requireLane(lane);
      afterword =
          new Afterword(lane, strengthPercent, note, estimates.getOrDefault(lane, Map.of()));
      afterwords.put(lane, afterword);
      outcomeVersion++;
    }
    keep(afterword);
    nudgeAll();
  }

  private void keep(Afterword afterword) throws IOException {
    Notebook notes;
    synchronized (this) {
      notes = notebook;
    }
    notes.keep(afterword);
  }

  private Afterword afterword(int lane) {
    Afterword known =
        afterwords.getOrDefault(
            lane, new Afterword(lane, OptionalDouble.empty(), Optional.empty(), Map.of()));
    Afterword next =
        new Afterword(
            lane, known.strengthPercent(), known.note(), estimates.getOrDefault(lane, Map.of()));
    afterwords.put(lane, next);
    return next;
  }

  private void requireRun() throws BadMessage {
    if (start == null) {
      throw new BadMessage("No run has begun yet.");
    }
  }

  private void requireLane(int lane) throws BadMessage {
    if (!tracks.containsKey(lane)) {
      throw new BadMessage("There is no lane " + lane + ".");
    }
  }

  /** The run as JSON; empty before the first. */
  synchronized Optional<String> runText() {
    return Optional.ofNullable(start).map(known -> PageJson.run(run, known));
  }

  /** The newest view as JSON, without trace; empty before the first. */
  synchronized Optional<String> viewText() {
    RehearsalView newest = view;
    if (newest == null) {
      return Optional.empty();
    }
    String text = viewText;
    if (text == null) {
      text = PageJson.view(run, newest, hidden());
      viewText = text;
    }
    return Optional.of(text);
  }

  /** The outcome as JSON; empty before the end of the run. */
  synchronized Optional<String> outcomeText() {
    Outcome result = outcome;
    return result == null
        ? Optional.empty()
        : Optional.of(
            PageJson.outcome(run, result, hidden(), List.copyOf(afterwords.values()), tracks));
  }

  /** What of this run must not be shown yet. */
  private Hidden hidden() {
    boolean isBlind = start != null && start.feedback() == Feedback.BLIND && !isRevealed;
    return new Hidden(isBlind, estimates);
  }

  @Override
  public synchronized Optional<String> next(Progress progress) {
    if (start == null) {
      return Optional.empty();
    }
    if (progress.run != run) {
      progress.startRun(run);
      return runText();
    }
    RehearsalView newest = view;
    if (newest != null && newest.number() > progress.view) {
      progress.view = newest.number();
      String text = viewText().orElseThrow();
      return Optional.of(hidden().isOn() ? text : withTrace(text, progress));
    }
    if (outcome != null && progress.outcome != outcomeVersion) {
      progress.outcome = outcomeVersion;
      return outcomeText();
    }
    return Optional.empty();
  }

  private String withTrace(String text, Progress progress) {
    List<PageJson.Stretch> news = new ArrayList<>();
    tracks.forEach(
        (lane, track) -> {
          int from = progress.points.getOrDefault(lane, 0);
          if (track.size() > from) {
            news.add(new PageJson.Stretch(lane, track, from));
            progress.points.put(lane, track.size());
          }
        });
    return news.isEmpty() ? text : PageJson.withTrace(text, news);
  }
}
