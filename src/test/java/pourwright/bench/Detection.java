package pourwright.bench;

import java.util.ArrayList;
import java.util.List;
import pourwright.detect.Analysis;
import pourwright.detect.Curve;
import pourwright.detect.DetectorSettings;
import pourwright.units.Mass;

/** The detector as everyone uses it: told the dose and nothing of scale or noise. */
final class Detection implements Finder {
  @Override
  public Found find(Take take) {
    List<Curve> curves = new ArrayList<>();
    take.curves()
        .forEach(
            (place, taken) -> {
              Curve curve = new Curve(place, taken.samples().size());
              taken
                  .samples()
                  .forEach(
                      sample ->
                          curve.add(
                              sample.reading().at().nanos(), sample.reading().mass().nanograms()));
              curves.add(curve);
            });
    Analysis analysis =
        Analysis.of(
            take.rig(),
            DetectorSettings.standard().withDose(Mass.ofGrams(take.doseGrams())),
            curves);
    return new Found(analysis.announced(), analysis.findings());
  }
}
