package pourwright.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class PageFilesTest {
  private static final Pattern REFERENCE =
      Pattern.compile("(?:src=|href=|from |url\\()\"(/[A-Za-z0-9._-]*)\"");
  private static final Pattern OUTSIDE = Pattern.compile("https?://(?!www\\.w3\\.org/2000/svg)");

  private final PageFiles files = new PageFiles();

  @Test
  void every_file_of_the_page_is_served_and_none_besides() throws Exception {
    for (String path : PageFiles.paths()) {
      assertThat(files.find(path)).as(path).isPresent();
    }
    Path folder =
        Path.of(
                java.util.Objects.requireNonNull(
                        PageFilesTest.class.getResource("/pourwright/page/index.html"))
                    .toURI())
            .resolveSibling("");
    List<String> served = new ArrayList<>();
    PageFiles.paths().forEach(served::add);
    try (Stream<Path> inside = Files.list(folder)) {
      assertThat(inside.map(file -> file.getFileName().toString()))
          .allSatisfy(
              name ->
                  assertThat(served)
                      .containsAnyOf(
                          "/" + name,
                          "/" + name.replace(".html", ""),
                          name.equals("index.html") ? "/" : "-"));
    }
    assertThat(files.find("/../page/index.html")).isEmpty();
    assertThat(files.find("/index.html")).isEmpty();
  }

  @Test
  void the_page_refers_to_nothing_but_itself() {
    for (String path : PageFiles.paths()) {
      PageFiles.PageFile file = files.find(path).orElseThrow();
      if (!file.type().startsWith("text/") || path.contains("LICENSE") || path.contains("uPlot")) {
        continue;
      }
      String text = new String(file.content(), StandardCharsets.UTF_8);
      assertThat(OUTSIDE.matcher(text).find()).as("outside address in %s", path).isFalse();
      Matcher reference = REFERENCE.matcher(text);
      while (reference.find()) {
        assertThat(files.find(reference.group(1))).as(reference.group()).isPresent();
      }
    }
  }

  @Test
  void no_style_or_script_stands_in_the_html() {
    for (String path : List.of("/", "/pair", "/api", "/plan")) {
      String html = new String(files.find(path).orElseThrow().content(), StandardCharsets.UTF_8);
      assertThat(html)
          .as(path)
          .doesNotContain("<style", " style=", "javascript:")
          .doesNotContainPattern(" on[a-z]+=")
          .doesNotContainPattern("<script(?![^>]*src=)");
    }
  }
}
