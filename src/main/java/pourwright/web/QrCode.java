package pourwright.web;

import com.google.zxing.BarcodeFormat;
import com.google.zxing.EncodeHintType;
import com.google.zxing.WriterException;
import com.google.zxing.common.BitMatrix;
import com.google.zxing.qrcode.QRCodeWriter;
import com.google.zxing.qrcode.decoder.ErrorCorrectionLevel;
import java.util.Map;

/** A QR code (ISO/IEC 18004) of a short text, for a terminal or a page. */
public final class QrCode {
  /** Light modules on every side, as the standard asks for. */
  private static final int QUIET_ZONE = 4;

  private final BitMatrix modules;

  private QrCode(BitMatrix modules) {
    this.modules = modules;
  }

  /**
   * The smallest code that holds {@code text}.
   *
   * @throws IllegalArgumentException when it is too long for any
   */
  public static QrCode of(String text) {
    try {
      return new QrCode(
          new QRCodeWriter()
              .encode(
                  text,
                  BarcodeFormat.QR_CODE,
                  0,
                  0,
                  Map.of(
                      EncodeHintType.MARGIN,
                      QUIET_ZONE,
                      EncodeHintType.ERROR_CORRECTION,
                      ErrorCorrectionLevel.M)));
    } catch (WriterException tooLong) {
      throw new IllegalArgumentException("no QR code holds this text", tooLong);
    }
  }

  int size() {
    return modules.getWidth();
  }

  /** Whether a module is dark; outside of the code none is. */
  boolean isDark(int column, int row) {
    return row < modules.getHeight() && modules.get(column, row);
  }

  /**
   * Two rows of modules to a line of half blocks, dark on light whatever the terminal's colours.
   */
  public String toTerminal() {
    StringBuilder text = new StringBuilder();
    for (int row = 0; row < size(); row += 2) {
      text.append("\u001b[30;107m");
      for (int column = 0; column < size(); column++) {
        boolean upper = isDark(column, row);
        boolean lower = isDark(column, row + 1);
        text.append(upper ? (lower ? '█' : '▀') : (lower ? '▄' : ' '));
      }
      text.append("\u001b[0m\n");
    }
    return text.toString();
  }

  /** An image of its own, black on white, one unit to a module. */
  public String toSvg() {
    StringBuilder path = new StringBuilder();
    for (int row = 0; row < size(); row++) {
      for (int column = 0; column < size(); column++) {
        if (isDark(column, row)) {
          path.append('M').append(column).append(' ').append(row).append("h1v1h-1z");
        }
      }
    }
    return """
        <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %1$d %1$d" shape-rendering="crispEdges">\
        <path fill="#fff" d="M0 0h%1$dv%1$dH0z"/><path fill="#000" d="%2$s"/></svg>
        """
        .formatted(size(), path);
  }
}
