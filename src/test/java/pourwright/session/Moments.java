package pourwright.session;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import pourwright.coach.CoachSettings;
import pourwright.coach.Feedback;
import pourwright.detect.DetectorSettings;
import pourwright.device.Transport.Arrival;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.units.SessionTime;

/** Every moment of a run of one lane, without threads and without leaving any out. */
public final class Moments {
  private Moments() {}

  /** One view after each arrival. */
  public static List<RehearsalView> of(Feedback feedback, List<Arrival> arrivals)
      throws InterruptedException {
    PlacedScale scale = Played.scale(1, Place.WHOLE, arrivals);
    Lane lane =
        new Lane(
            Played.lane(1, Rig.WHOLE),
            DetectorSettings.standard(),
            CoachSettings.of(feedback, 0),
            List.of(scale),
            false,
            event -> {});
    List<RehearsalView> views = new ArrayList<>();
    Arrival arrival = scale.transport().receive(Duration.ZERO);
    while (!(arrival instanceof Arrival.Ended)) {
      if (arrival instanceof Arrival.Received received) {
        lane.hear(Place.WHOLE, scale.decoder().feed(received.chunk()), reading -> {});
      } else if (arrival instanceof Arrival.Lost lost) {
        lane.lost(Place.WHOLE, lost.at(), lost.why());
      }
      lane.coach(arrival.at());
      views.add(view(views.size() + 1, arrival.at(), feedback, lane));
      arrival = scale.transport().receive(Duration.ZERO);
    }
    lane.finish(arrival.at(), "the end");
    views.add(view(views.size() + 1, arrival.at(), feedback, lane));
    return views;
  }

  /** The same moment where so many brewers like this one share a scale. */
  public static RehearsalView withMovedScale(
      RehearsalView one, int brewers, RehearsalView.Standing standing) {
    LaneView lane = one.lanes().get(0);
    List<LaneView> lanes = new ArrayList<>();
    for (int number = 1; number <= brewers; number++) {
      lanes.add(
          new LaneView(
              number,
              lane.brewer(),
              lane.rig(),
              lane.schedule(),
              lane.phase(),
              lane.tared(),
              lane.firstWater(),
              lane.outlook(),
              lane.pours(),
              lane.soFar(),
              lane.guidance(),
              lane.cues(),
              lane.links()));
    }
    return new RehearsalView(
        one.number(),
        one.at(),
        one.phase(),
        one.firstWater(),
        one.feedback(),
        one.isVoid(),
        lanes,
        Optional.of(standing),
        one.notices());
  }

  private static RehearsalView view(long number, SessionTime at, Feedback feedback, Lane lane) {
    return new RehearsalView(
        number,
        at,
        lane.phase(),
        lane.firstWater(),
        feedback,
        false,
        List.of(lane.view(at)),
        Optional.empty(),
        List.of());
  }
}
