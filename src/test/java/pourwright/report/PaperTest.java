package pourwright.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.sun.net.httpserver.HttpServer;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.util.concurrent.atomic.AtomicInteger;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.PDResources;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class PaperTest {

  private static final String CHART =
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"200\" height=\"60\" viewBox=\"0 0 200 60\">"
          + "<path d=\"M0 50 L200 10\" stroke=\"#0a6a92\" fill=\"none\"/>"
          + "<text x=\"10\" y=\"20\" font-family=\"Hyperlegible\" font-size=\"12\">in a chart</text>"
          + "</svg>";

  private static PDDocument printed(String body) throws Exception {
    return Loader.loadPDF(Paper.pdf(new Sheet("Season & finals", "", body)));
  }

  private static String text(PDDocument document) throws Exception {
    PDFTextStripper stripper = new PDFTextStripper();
    stripper.setSortByPosition(true);
    return stripper.getText(document);
  }

  @Test
  void every_page_carries_its_number_and_the_title() throws Exception {
    try (PDDocument document = printed("<p>one line</p>".repeat(200))) {
      assertThat(document.getNumberOfPages()).isGreaterThan(2);
      for (int page = 1; page <= document.getNumberOfPages(); page++) {
        PDFTextStripper one = new PDFTextStripper();
        one.setStartPage(page);
        one.setEndPage(page);
        assertThat(one.getText(document))
            .contains(page + " / " + document.getNumberOfPages(), "Season & finals");
      }
      assertThat(document.getDocumentInformation().getTitle()).isEqualTo("Season & finals");
    }
  }

  @Test
  void text_is_set_in_the_own_type_and_nothing_else() throws Exception {
    try (PDDocument document = printed("<p>plain <b>bold</b> −2.0 g ± 0.3 · 4 × 5</p>" + CHART)) {
      assertThat(text(document)).contains("plain bold −2.0 g ± 0.3 · 4 × 5");
      PDPage page = document.getPage(0);
      PDResources resources = page.getResources();
      for (var name : resources.getFontNames()) {
        PDFont font = resources.getFont(name);
        assertThat(font.isEmbedded()).as(font.getName()).isTrue();
        assertThat(font.getName()).contains("Hyperlegible");
      }
    }
  }

  @Test
  void a_chart_is_printed_as_lines_and_not_as_a_picture() throws Exception {
    try (PDDocument document = printed(CHART)) {
      PDResources resources = document.getPage(0).getResources();
      for (var name : resources.getXObjectNames()) {
        assertThat(resources.isImageXObject(name)).isFalse();
      }
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"Dialog", "Hyperlegible Bold"})
  void a_chart_is_set_in_the_own_type_and_in_the_face_it_names(String family) throws Exception {
    String other = CHART.replace("\"Hyperlegible\"", "\"" + family + "\"");
    try (PDDocument ours = printed(CHART);
        PDDocument theirs = printed(other)) {
      assertThat(drawing(ours)).isNotEmpty().isNotEqualTo(drawing(theirs));
    }
  }

  private static byte[] drawing(PDDocument document) throws Exception {
    PDResources resources = document.getPage(0).getResources();
    COSName name = resources.getXObjectNames().iterator().next();
    return resources.getXObject(name).getStream().toByteArray();
  }

  @Test
  void hostile_text_is_printed_as_it_stands() throws Exception {
    String hostile = "<script>alert('1')</script> & \"<b>\" \u0000\u0007";
    try (PDDocument document = printed("<p>" + Sheet.escaped(hostile) + "</p>")) {
      assertThat(text(document)).contains("<script>alert('1')</script> & \"<b>\"");
    }
  }

  @Test
  void a_broken_body_is_refused() {
    assertThatThrownBy(() -> printed("<p>never closed"))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void nothing_is_fetched_whatever_the_page_names() throws Exception {
    AtomicInteger asked = new AtomicInteger();
    HttpServer server =
        HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    server.createContext(
        "/",
        exchange -> {
          asked.incrementAndGet();
          exchange.sendResponseHeaders(404, -1);
          exchange.close();
        });
    server.start();
    try {
      String at = "http://127.0.0.1:" + server.getAddress().getPort() + "/x";
      printed(
              "<img src='"
                  + at
                  + ".png'/><div style=\"background: url('"
                  + at
                  + "')\">a</div><svg xmlns='http://www.w3.org/2000/svg'"
                  + " xmlns:xlink='http://www.w3.org/1999/xlink' width='9' height='9'>"
                  + "<image xlink:href='"
                  + at
                  + ".png' width='9' height='9'/></svg><p>b</p>")
          .close();
    } finally {
      server.stop(0);
    }
    assertThat(asked).hasValue(0);
  }

  @Test
  void a_sheet_says_how_it_came_out() {
    Paper.Printed one = Paper.print(new Sheet("one", "", "<p>short</p>"));
    assertThat(one.pages()).isEqualTo(1);
    assertThat(one.lastFilled()).isBetween(0.01, 0.05);
    assertThat(one.isTooWide()).isFalse();
    String style = "p { height: 180mm; page-break-inside: avoid; } i { display: block; }";
    Paper.Printed two = Paper.print(new Sheet("two", style, "<p>first</p><p>second</p>"));
    assertThat(two.pages()).isEqualTo(2);
    // 180 of 263 mm between the margins
    assertThat(two.lastFilled()).isBetween(0.67, 0.70);
    Paper.Printed wide =
        Paper.print(new Sheet("wide", style, "<div><i style=\"width: 179mm\">too far</i></div>"));
    assertThat(wide.isTooWide()).isTrue();
    assertThat(
            Paper.print(new Sheet("fits", style, "<i style=\"width: 177mm\">fits</i>")).isTooWide())
        .isFalse();
  }
}
