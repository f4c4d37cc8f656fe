package pourwright.cli;

import java.io.IOException;
import java.time.Duration;
import java.util.List;
import java.util.function.BooleanSupplier;
import java.util.function.Consumer;
import pourwright.check.Ask;
import pourwright.check.Check;
import pourwright.check.CheckView;
import pourwright.check.Measured;
import pourwright.check.Notice;
import pourwright.check.Programme;
import pourwright.device.Decoder.Decoded;
import pourwright.device.Scale;
import pourwright.device.Scale.Heard;
import pourwright.session.PlacedScale;
import pourwright.units.SessionTime;

/** Listens to a scale and leads a check to its end. */
final class CheckRun {
  private static final Duration PATIENCE = Duration.ofMillis(25);

  /** A scale that says nothing for so long at the start is not there (s); own choice. */
  private static final double NOTHING_SECONDS = 20;

  private final CheckedScale checked;
  private final Check check;
  private final Scale scale;
  private final CheckTalk talk;
  private final Consumer<CheckView> audience;
  private boolean hasRead;

  /**
   * @param audience gets every new view
   */
  CheckRun(
      CheckedScale checked, Programme programme, CheckTalk talk, Consumer<CheckView> audience) {
    PlacedScale placed = checked.placed();
    this.checked = checked;
    this.check = new Check(programme);
    this.scale = new Scale(placed.transport(), placed.decoder(), placed.commands(), chunk -> {});
    this.talk = talk;
    this.audience = audience;
  }

  /**
   * Leads the check until it is done, stopped, or the scale's stream ends.
   *
   * @throws Failure when no reading comes at all
   */
  Measured run(BooleanSupplier isStopped) throws Failure, InterruptedException {
    tell(check.begin());
    while (!check.isDone() && !isStopped.getAsBoolean()) {
      Heard heard = scale.listen(PATIENCE);
      if (heard instanceof Heard.Over) {
        break;
      }
      hear(heard);
    }
    return check.measured();
  }

  private void hear(Heard heard) throws Failure {
    if (heard instanceof Heard.Said said) {
      for (Decoded decoded : said.inOrder()) {
        if (decoded instanceof Decoded.Weighed weighed) {
          hasRead = true;
          tell(check.on(weighed.reading()));
        }
      }
    } else if (heard instanceof Heard.Gone gone) {
      tell(check.onLost(gone.at(), gone.why()));
    }
    if (!hasRead && heard.at().isAfter(SessionTime.ofSeconds(NOTHING_SECONDS))) {
      throw new Failure(
          checked.placed().address()
              + ": no weight came in "
              + Math.round(NOTHING_SECONDS)
              + " s; is the scale on, and does profile "
              + checked.placed().profile()
              + " fit it? `pourwright scales --listen PORT` finds out");
    }
  }

  private void tell(List<Notice> notices) {
    CheckView view = check.view();
    talk.say(notices, view, checked.speed());
    audience.accept(view);
    Ask ask = check.ask();
    checked.hand().ifPresent(hand -> hand.hear(notices, ask));
    if (ask instanceof Ask.Tare
        && notices.stream().anyMatch(notice -> notice.kind() == Notice.Kind.ASK)) {
      tare();
    }
  }

  /** By command where the scale knows one; else the brewer presses the key as asked. */
  private void tare() {
    try {
      scale.tare();
    } catch (IOException refused) {
      // the ask stands on the screen; the key does the same
    }
  }
}
