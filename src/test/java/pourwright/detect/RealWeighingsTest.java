package pourwright.detect;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import pourwright.rig.Place;
import pourwright.rig.Rig;

/**
 * A laboratory balance, recorded while liquid was drawn from a vessel on it; turned over and
 * enlarged it is one pour. Source and licence lie beside the data.
 */
class RealWeighingsTest {
  private static final double ENLARGED = 50;

  @ParameterizedTest
  @ValueSource(strings = {"liqtransfer_std204.csv", "liqtransfer_std505.csv"})
  void recorded_flow_is_one_pour_with_its_whole_tail(String file) throws IOException {
    List<double[]> rows = read(file);
    Curve curve = new Curve(Place.WHOLE);
    for (double[] row : rows) {
      curve.add(Math.round(row[0] * 1e9), Math.round(-ENLARGED * row[1] * 1e9));
    }
    double moved = ENLARGED * (mean(rows, 0, 8) - mean(rows, rows.size() - 8, rows.size()));

    Findings findings =
        Analysis.of(Rig.WHOLE, DetectorSettings.standard(), List.of(curve)).findings();

    assertThat(findings.pours()).hasSize(1);
    assertThat(findings.pours().get(0).poured().grams()).isCloseTo(moved, within(0.01 * moved));
  }

  private static double mean(List<double[]> rows, int from, int to) {
    return rows.subList(from, to).stream().mapToDouble(row -> row[1]).average().orElseThrow();
  }

  private static List<double[]> read(String file) throws IOException {
    List<double[]> rows = new ArrayList<>();
    try (InputStream in =
            Objects.requireNonNull(
                RealWeighingsTest.class.getResourceAsStream("/pourwright/real-weighings/" + file));
        BufferedReader lines =
            new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8))) {
      lines.readLine();
      for (String line = lines.readLine(); line != null; line = lines.readLine()) {
        String[] fields = line.split(",", -1);
        rows.add(new double[] {Double.parseDouble(fields[0]), Double.parseDouble(fields[1])});
      }
    }
    return rows;
  }
}
