package pourwright.report;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.imageio.ImageIO;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.rendering.ImageType;
import org.apache.pdfbox.rendering.PDFRenderer;

/** A chart as a PNG: printed on a sheet of just its size, then taken as a picture. */
public final class Picture {
  private static final Pattern SIZE = Pattern.compile("width=\"([0-9.]+)\" height=\"([0-9.]+)\"");
  private static final float CSS_PIXELS_PER_INCH = 96;

  private Picture() {}

  /**
   * Takes a picture.
   *
   * @param svg with its width and height in pixels, as our charts have
   * @param enlarged times its own size
   * @throws IllegalArgumentException when it tells no size
   */
  public static byte[] png(String svg, int enlarged) {
    Matcher size = SIZE.matcher(svg);
    if (!size.find()) {
      throw new IllegalArgumentException("a chart without its size");
    }
    String style =
        "@page { size: "
            + size.group(1)
            + "px "
            + size.group(2)
            + "px; margin: 0; @bottom-left { content: none; } @bottom-right { content: none; } }";
    try (PDDocument page = Loader.loadPDF(Paper.pdf(new Sheet("", style, svg)));
        ByteArrayOutputStream out = new ByteArrayOutputStream()) {
      BufferedImage image =
          new PDFRenderer(page)
              .renderImageWithDPI(0, enlarged * CSS_PIXELS_PER_INCH, ImageType.RGB);
      ImageIO.write(image, "png", out);
      return out.toByteArray();
    } catch (IOException never) {
      throw new IllegalStateException("a chart could not be taken as a picture", never);
    }
  }
}
