package pourwright.bench;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import pourwright.rig.Place;
import pourwright.rig.Rig;

/** Makes recordings: the same family and seed give the same recording, always. */
final class Takes {
  private Takes() {}

  static Take of(Family family, long seed) {
    Dice dice = new Dice(seed * 31 + family.word().hashCode() * 1_000_003L);
    Conditions conditions = Conditions.draw(family, dice.split());
    Scene scene = new Scene(conditions, dice.split());
    Truth bare = scene.truth();
    List<Truth.Gap> gaps = gaps(conditions, bare, dice.split());
    Truth truth = new Truth(bare.pours(), bare.lift(), bare.mishaps(), gaps, bare.endSeconds());
    Map<Place, Take.Curve> curves = new EnumMap<>(Place.class);
    for (Place place : conditions.rig().places()) {
      Readout readout = new Readout(conditions.sensor(), conditions.link(), gaps, dice.split());
      double[] force = place == Place.WHOLE ? scene.whole() : scene.server();
      // in a split rig the scale under the server is tared once, before the recording
      boolean isSecond = conditions.rig() == Rig.SPLIT && place == Place.SERVER;
      curves.put(
          place, readout.weigh(force, isSecond ? List.of() : scene.tares(), scene.startsTared()));
    }
    return new Take(
        family, seed, conditions.rig(), scene.doseGrams(), curves, truth, conditions.about());
  }

  private static List<Truth.Gap> gaps(Conditions conditions, Truth truth, Dice dice) {
    List<Truth.Gap> gaps = new ArrayList<>();
    double first = truth.pours().get(0).startSeconds();
    for (int i = 0; i < conditions.mishaps().dropouts(); i++) {
      double start = dice.between(first - 3, truth.endSeconds() - 6);
      double end = start + dice.between(2, 5);
      if (gaps.stream()
          .noneMatch(gap -> start < gap.endSeconds() + 3 && end > gap.startSeconds() - 3)) {
        gaps.add(new Truth.Gap(start, end));
      }
    }
    return List.copyOf(gaps);
  }
}
