package pourwright.check;

import java.util.ArrayList;
import java.util.List;
import pourwright.check.Doing.Goal;
import pourwright.performance.Plateau;
import pourwright.reading.Reading;
import pourwright.units.SessionTime;

/**
 * A guided check under way: readings in, notices out. Pure; time is what the readings say.
 *
 * <p>What is done wrong is said and undone, what is disturbed is measured again, and what was
 * measured before is kept.
 */
public final class Check {
  /** The weight before the first reading at rest. */
  private static final Plateau UNKNOWN = new Plateau(0, 0, 0, 0, 3);

  private final Bench bench;
  private final List<Notice> said = new ArrayList<>();
  private Doing doing = new Doing.Settling(new Goal.Asked(), UNKNOWN, 0, 0, 0);
  private int losses;

  public Check(Programme programme) {
    this.bench = new Bench(programme);
  }

  /** The first thing to be told. */
  public List<Notice> begin() {
    bench.tell(Notice.Kind.ASK, bench.ask().words());
    return told();
  }

  /** Takes one reading; answers with what is to be told. */
  public List<Notice> on(Reading reading) {
    bench.pan().add(reading);
    doing = doing.on(bench);
    return told();
  }

  /** The scale is gone. */
  public List<Notice> onLost(SessionTime at, String why) {
    if (!(doing instanceof Doing.Done) && !(doing instanceof Doing.Blind)) {
      losses++;
      doing = new Doing.Blind(doing.goal(), doing.level());
      bench.tell(Notice.Kind.LOST, "The scale is gone (" + why + "). What was measured is kept.");
    }
    return told();
  }

  private List<Notice> told() {
    List<Notice> now = bench.takeNotices();
    now.stream().filter(notice -> notice.kind() != Notice.Kind.COUNT).forEach(said::add);
    return now;
  }

  public boolean isDone() {
    return doing instanceof Doing.Done;
  }

  /** What the brewer is asked now. */
  public Ask ask() {
    return bench.ask();
  }

  public CheckView view() {
    Pan pan = bench.pan();
    boolean hasReading = pan.size() > 0;
    double left =
        doing instanceof Doing.Timed timed && hasReading
            ? Math.max(0, timed.seconds() - (pan.now() - timed.startedAt()))
            : 0;
    return new CheckView(
        SessionTime.ofSeconds(hasReading ? pan.now() : 0),
        doing.stage(),
        bench.ask().part(),
        Math.min(bench.index() + 1, bench.programme().asks().size()),
        bench.programme().asks().size(),
        words(),
        hasReading ? pan.newest() : 0,
        left,
        bench.beat(),
        bench.secondsToBeat(),
        said);
  }

  private String words() {
    return switch (doing.stage()) {
      case WAITING, MEASURING, SETTLING -> bench.ask().words();
      case UNDOING, BLIND -> said.isEmpty() ? "" : said.get(said.size() - 1).text();
      case DONE -> "All done.";
    };
  }

  /** What was measured so far. */
  public Measured measured() {
    return new Measured(
        bench.programme(), bench.taken(), bench.pan().all(), losses, bench.disturbances());
  }
}
