package pourwright.report;

import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FSFontUseCase;
import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.outputdevice.helper.ExternalResourceControlPriority;
import com.openhtmltopdf.pdfboxout.PdfBoxRenderer;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.render.BlockBox;
import com.openhtmltopdf.render.Box;
import com.openhtmltopdf.render.PageBox;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import com.openhtmltopdf.util.XRLog;
import com.openhtmltopdf.util.XRRuntimeException;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;

/**
 * Prints to PDF: A4 unless the sheet says otherwise, our own type embedded, charts as vectors, page
 * numbers at the foot. Fetches nothing: a page that names a file or an address prints without it.
 */
public final class Paper {
  private static final String FAMILY = "Hyperlegible";
  private static final byte[] REGULAR = resource("hyperlegible-400.ttf");
  private static final byte[] BOLD = resource("hyperlegible-700.ttf");
  private static final String EMBEDDED = "data:font/ttf;base64,";

  /**
   * Charts take their type from the style alone, so it stands there too; in them the bold face goes
   * by a name of its own, since the library that draws them takes no weight from a style.
   */
  private static final String COMMON =
      face(FAMILY, REGULAR)
          + face(FAMILY + " Bold", BOLD)
          + new String(resource("paper.css"), StandardCharsets.UTF_8);

  static {
    XRLog.setLoggingEnabled(false); // it would chat on stderr about every rule of the style
  }

  private Paper() {}

  /**
   * A printed sheet.
   *
   * @param pdf the file
   * @param pages from 1
   * @param lastFilled how much of the last page is used, 0 to 1
   * @param isTooWide whether something reaches into the right margin
   */
  @SuppressWarnings("ArrayRecordComponent") // written once, and never compared
  public record Printed(byte[] pdf, int pages, double lastFilled, boolean isTooWide) {}

  /**
   * The PDF of a sheet.
   *
   * @throws IllegalArgumentException when the body is no well-formed XHTML
   */
  public static byte[] pdf(Sheet sheet) {
    return print(sheet).pdf();
  }

  /**
   * The PDF of a sheet, and how it came out.
   *
   * @throws IllegalArgumentException when the body is no well-formed XHTML
   */
  public static Printed print(Sheet sheet) {
    String title = Sheet.escaped(sheet.title());
    String page =
        "<!DOCTYPE html><html lang=\"en\"><head><title>"
            + title
            + "</title><style>"
            + COMMON
            + foot(sheet.title())
            + sheet.style()
            + "</style></head><body>"
            + sheet.body()
            + "</body></html>";
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    PdfRendererBuilder builder = new PdfRendererBuilder();
    builder.useFastMode();
    font(builder, REGULAR, 400);
    font(builder, BOLD, 700);
    for (ExternalResourceControlPriority when : ExternalResourceControlPriority.values()) {
      builder.useExternalResourceAccessControl(
          (address, kind) -> address.startsWith(EMBEDDED), when);
    }
    builder.useUnicodeLineBreaker(new SpaceBreaker());
    builder.withProducer("Pourwright");
    builder.withHtmlContent(page, null);
    builder.toStream(out);
    try (BatikSVGDrawer drawer = new BatikSVGDrawer()) {
      builder.useSVGDrawer(drawer);
      try (PdfBoxRenderer renderer = builder.buildPdfRenderer()) {
        renderer.layout();
        BlockBox all = renderer.getRootBox();
        List<PageBox> pages = all.getLayer().getPages();
        PageBox last = pages.get(pages.size() - 1);
        double used = all.getHeight() - last.getTop();
        double room = last.getBottom() - last.getTop();
        boolean isTooWide = reachesBeyond(all.getAbsX() + all.getWidth(), all);
        renderer.createPDF();
        return new Printed(out.toByteArray(), pages.size(), used / room, isTooWide);
      }
    } catch (IOException | XRRuntimeException unreadable) {
      throw new IllegalArgumentException("not printable: " + unreadable.getMessage(), unreadable);
    }
  }

  private static boolean reachesBeyond(int right, Box box) {
    if (box.getAbsX() + box.getWidth() > right) {
      return true;
    }
    for (int i = 0; i < box.getChildCount(); i++) {
      if (reachesBeyond(right, box.getChild(i))) {
        return true;
      }
    }
    return false;
  }

  /** The title at the foot; escaped for CSS, and so that XML sees no sign of its own in it. */
  private static String foot(String title) {
    StringBuilder quoted = new StringBuilder();
    title
        .codePoints()
        .map(point -> Character.isISOControl(point) ? ' ' : point)
        .forEach(
            point -> {
              if (Character.isLetterOrDigit(point) || point == ' ') {
                quoted.appendCodePoint(point);
              } else {
                quoted.append(String.format(Locale.ROOT, "\\%06x ", point));
              }
            });
    return "@page { @bottom-left { font: 8pt Hyperlegible; color: #5c5a53; content: \""
        + quoted
        + "\"; } }";
  }

  private static void font(PdfRendererBuilder builder, byte[] face, int weight) {
    builder.useFont(
        () -> new ByteArrayInputStream(face),
        FAMILY,
        weight,
        FontStyle.NORMAL,
        true,
        EnumSet.of(FSFontUseCase.DOCUMENT));
  }

  private static String face(String family, byte[] font) {
    return "@font-face { font-family: '"
        + family
        + "'; src: url('"
        + EMBEDDED
        + Base64.getEncoder().encodeToString(font)
        + "'); }\n";
  }

  private static byte[] resource(String name) {
    try (InputStream in = Paper.class.getResourceAsStream("/pourwright/report/" + name)) {
      if (in == null) {
        throw new IllegalStateException("the program lacks its own file " + name);
      }
      return in.readAllBytes();
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    }
  }
}
