package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.reading.Reading;
import pourwright.reading.Stability;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.units.Mass;
import pourwright.units.SessionTime;

/** The detector as its callers use and misuse it. */
class DetectorUseTest {

  private static Detector whole() {
    return new Detector(Rig.WHOLE, DetectorSettings.standard(), event -> {});
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, -1, 3601, Double.NaN})
  void impossible_rate_of_false_starts_is_refused(double rate) {
    assertThatThrownBy(() -> DetectorSettings.standard().withFalseStartsPerHour(rate))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("false starts per hour");
  }

  @ParameterizedTest
  @ValueSource(doubles = {-0.1, 10.1, Double.NaN})
  void impossible_lag_is_refused(double seconds) {
    assertThatThrownBy(() -> DetectorSettings.standard().withLagSeconds(seconds))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("0 to 10 s");
  }

  @Test
  void lag_can_be_given_for_each_scale() {
    DetectorSettings settings =
        DetectorSettings.standard()
            .withLagSeconds(Place.SERVER, 0.2)
            .withLagSeconds(Place.WHOLE, 0.4)
            .withServer(Mass.ofGrams(200))
            .withPlannedWater(Mass.ofGrams(250));
    assertThat(settings.lagSeconds(Place.WHOLE)).hasValue(0.4);
    assertThat(settings.lagSeconds(Place.SERVER)).hasValue(0.2);
  }

  @Test
  void reading_of_a_scale_that_is_not_there_is_refused() {
    Reading reading = new Reading(SessionTime.ZERO, Mass.ZERO, Stability.UNSTATED);
    assertThatThrownBy(() -> whole().weigh(Place.SERVER, reading))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("no scale weighs");
  }

  @Test
  void before_the_first_reading_it_is_settling() {
    Detector detector = whole();
    detector.finish(SessionTime.ofSeconds(3));
    assertThat(detector.outlook().doing()).isEqualTo(Outlook.Doing.SETTLING);
    assertThat(detector.outlook().at()).isEqualTo(SessionTime.ofSeconds(3));
    assertThat(detector.rig()).isEqualTo(Rig.WHOLE);
  }

  @Test
  void silence_and_loss_are_seen_and_a_return_is_no_pour() {
    List<PourEvent> said = new ArrayList<>();
    Detector detector = new Detector(Rig.WHOLE, DetectorSettings.standard(), said::add);
    long step = 100_000_000L;
    for (int i = 0; i < 50; i++) {
      detector.weigh(Place.WHOLE, i * step, 0, Stability.STABLE);
    }
    assertThat(detector.outlook().doing()).isEqualTo(Outlook.Doing.RESTING);
    detector.silence(Place.WHOLE, SessionTime.ofNanos(60 * step));
    assertThat(detector.outlook().doing()).isEqualTo(Outlook.Doing.BLIND);
    detector.lost(Place.WHOLE, SessionTime.ofNanos(70 * step));
    detector.restored(Place.WHOLE, SessionTime.ofNanos(80 * step));
    for (int i = 80; i < 140; i++) {
      detector.weigh(Place.WHOLE, i * step, 0, Stability.STABLE);
    }
    assertThat(detector.outlook().doing()).isEqualTo(Outlook.Doing.RESTING);
    assertThat(said).singleElement().isInstanceOf(PourEvent.ReadingsMissed.class);
  }

  @Test
  void noise_that_was_measured_before_is_the_least_that_is_believed() {
    DetectorSettings measured = DetectorSettings.standard().withNoiseGrams(Place.WHOLE, 0.4);
    assertThat(measured.noiseGrams(Place.SERVER)).isEmpty();
    assertThat(measured.withNoiseGrams(Place.SERVER, 0.2).noiseGrams(Place.SERVER)).hasValue(0.2);
    for (DetectorSettings settings : List.of(measured, DetectorSettings.standard())) {
      List<PourEvent> said = new ArrayList<>();
      Detector detector = new Detector(Rig.WHOLE, settings, said::add);
      for (int i = 0; i < 100; i++) {
        // a filter that holds still, and lets a little through after 8 s
        long shown = i < 80 ? 0 : 600_000_000L + (i % 2) * 100_000_000L;
        detector.weigh(Place.WHOLE, i * 100_000_000L, shown, Stability.STABLE);
      }
      boolean isMeasured = settings.equals(measured);
      assertThat(detector.outlook().noise().grams() >= 0.4).isEqualTo(isMeasured);
    }
    assertThatThrownBy(() -> measured.withNoiseGrams(Place.WHOLE, 11))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("0 to 10 g");
    assertThatThrownBy(() -> measured.withNoiseGrams(Place.SERVER, -1))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void gap_in_which_the_vessel_went_away_is_a_disturbance() {
    Scene scene = new Scene().rest(5).pour(50, 5).rest(6).loseReadings(1, 3).rest(2).put(-40);
    Analysis analysis = scene.rest(10).analysed();
    assertThat(analysis.findings().pours()).hasSize(1);
    assertThat(analysis.findings().gaps()).hasSize(1);
  }

  @Test
  void pour_that_began_in_a_gap_and_goes_on_is_found() {
    Scene scene = new Scene().rest(8).loseReadings(-1, 3).pour(80, 5).rest(10);
    Analysis analysis = scene.analysed();
    assertThat(analysis.findings().pours()).hasSize(1);
    assertThat(analysis.findings().pours().get(0).poured().grams())
        .isCloseTo(scene.pours().get(0).grams(), within(0.5));
  }

  @Test
  void two_gaps_in_one_pour_keep_its_water() {
    Scene scene = new Scene().rest(6).loseReadings(2, 2).loseReadings(4.3, 2).pour(90, 6).rest(10);
    Analysis analysis = scene.analysed();
    assertThat(analysis.findings().pours()).hasSize(1);
    assertThat(analysis.findings().pours().get(0).poured().grams())
        .isCloseTo(scene.pours().get(0).grams(), within(0.5));
  }

  @Test
  void split_rig_tells_when_the_bed_is_dry_and_keeps_the_scales_apart() {
    Scene scene = new Scene().rest(6).pour(60, 5).rest(25);
    Curve whole = scene.curve();
    Curve server = new Curve(Place.SERVER);
    double from = scene.pours().get(0).start() + 2;
    for (int i = 0; i < whole.size(); i++) {
      double t = whole.atNanos(i) * 1e-9;
      server.add(whole.atNanos(i), Math.round(1e9 * Math.max(0, Math.min(45, 3 * (t - from)))));
    }
    Analysis analysis = Analysis.of(Rig.SPLIT, DetectorSettings.standard(), List.of(whole, server));
    assertThat(analysis.announced()).anyMatch(PourEvent.BedDrained.class::isInstance);
    assertThat(analysis.findings().pours()).hasSize(1);
    assertThat(analysis.findings().drawdowns())
        .singleElement()
        .extracting(Findings.Drawdown::basis)
        .isEqualTo(Basis.MEASURED);
  }

  @Test
  void what_could_be_read_only_roughly_is_remarked() {
    Scene coarse = new Scene().rate(4).resolution(1).rest(6).pour(60, 5).rest(10);
    assertThat(coarse.analysed().findings().warnings())
        .anyMatch(remark -> remark.contains("steps of 1.0 g"))
        .anyMatch(remark -> remark.contains("weights a second"));
    Scene restless = new Scene().noise(0.5).loseReadings(9, 3).rest(6).pour(60, 5).rest(10);
    assertThat(restless.analysed().findings().warnings())
        .anyMatch(remark -> remark.contains("restless"))
        .anyMatch(remark -> remark.contains("No weights arrived"))
        .anyMatch(remark -> remark.contains("rebuilt"));
    Scene slow = new Scene().lag(0.6).rest(5).put(300).rest(6).pour(60, 5);
    assertThat(slow.analysed().findings().warnings())
        .anyMatch(remark -> remark.contains("behind"))
        .anyMatch(remark -> remark.contains("still running"));
    assertThat(new Scene().rest(6).pour(60, 5).rest(10).analysed().findings().warnings()).isEmpty();
  }

  @Test
  void inferred_pours_are_said_to_be_rough() {
    Curve curve = new Curve(Place.SERVER);
    for (double t = 0; t < 40; t += 0.1) {
      double run = Math.max(0, Math.min(t, 27) - 8);
      curve.add(Math.round(t * 1e9), Math.round(Math.rint(run * 30) / 10 * 1e9));
    }
    Findings findings =
        Analysis.of(Rig.SERVER, DetectorSettings.standard().withLagSeconds(0.4), List.of(curve))
            .findings();
    assertThat(findings.warnings())
        .anyMatch(remark -> remark.contains("inferred"))
        .anyMatch(remark -> remark.contains("behind"));
  }

  @Test
  void coffee_that_trickles_onto_a_rig_put_together_before_us_is_no_pour() {
    Scene once = new Scene().rest(4).put(300).rest(4).pour(14, 2.5).rest(4).tare(0).rest(4);
    assertThat(once.pour(60, 5).rest(12).analysed().findings().pours()).hasSize(1);
    Scene twice = new Scene().rest(4).put(300).rest(4).pour(8, 2.5).rest(5).pour(8, 2.5).rest(4);
    assertThat(twice.tare(0).rest(4).pour(60, 5).rest(12).analysed().findings().pours()).hasSize(1);
  }

  /** Three seconds of water on a rig put together before us, and then the recording ends. */
  @Test
  void first_pour_that_the_recording_cuts_off_is_no_coffee() {
    Scene cut = new Scene().rest(4).put(300).rest(6).pour(15, 5).rest(0.2);
    assertThat(cut.analysed().findings().pours()).hasSize(1);
    Scene over = new Scene().rest(4).put(300).rest(6).pour(15, 5).rest(6);
    assertThat(over.analysed().findings().pours()).isEmpty();
  }

  @Test
  void small_first_pour_stays_one_where_the_coffee_was_seen_and_a_tare_follows() {
    Scene scene = new Scene().rest(4).put(300).rest(4).put(18).rest(5).pour(20, 6).rest(6);
    assertThat(scene.tare(0).rest(4).pour(60, 5).rest(12).analysed().findings().pours()).hasSize(2);
  }

  static Stream<Double> rates() {
    return Stream.of(4.0, 12.5, 80.0);
  }

  @ParameterizedTest
  @MethodSource("rates")
  void memory_and_rate_are_told(double rate) {
    Curve curve = new Scene().rate(rate).rest(20).curve();
    Detector detector = whole();
    for (int i = 0; i < curve.size(); i++) {
      detector.weigh(curve.place(), curve.atNanos(i), curve.nanograms(i), Stability.UNSTATED);
    }
    assertThat(detector.outlook().readingsPerSecond()).isCloseTo(rate, within(0.05 * rate));
    assertThat(detector.outlook().noise().grams()).isBetween(0.01, 0.1);
  }
}
