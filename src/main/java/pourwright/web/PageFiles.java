package pourwright.web;

import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.HexFormat;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;

/** The files of the page, out of the program itself; nothing else can be asked for. */
final class PageFiles {
  private static final String HERE = "/pourwright/page/";
  private static final String CHART = "/META-INF/resources/webjars/uplot/1.6.30/";
  private static final String HTML = "text/html; charset=utf-8";
  private static final String SCRIPT = "text/javascript; charset=utf-8";
  private static final String STYLE = "text/css; charset=utf-8";
  private static final String FONT = "font/woff2";
  private static final String PLAIN = "text/plain; charset=utf-8";
  private static final String PICTURE = "image/svg+xml";

  private static final Map<String, Source> SOURCES =
      Map.ofEntries(
          here("/", "index.html", HTML),
          here("/pair", "pair.html", HTML),
          here("/api", "api.html", HTML),
          here("/plan", "plan.html", HTML),
          here("/plan.css", "plan.css", STYLE),
          script("plan"),
          script("plan-chart"),
          script("water"),
          here("/page.css", "page.css", STYLE),
          here("/check", "check.html", HTML),
          here("/check.css", "check.css", STYLE),
          script("check"),
          here("/review", "review.html", HTML),
          here("/review.css", "review.css", STYLE),
          script("review"),
          here("/stage", "stage.html", HTML),
          here("/stage.css", "stage.css", STYLE),
          script("stage"),
          here("/mark.svg", "mark.svg", PICTURE),
          here("/hyperlegible-400.woff2", "hyperlegible-400.woff2", FONT),
          here("/hyperlegible-700.woff2", "hyperlegible-700.woff2", FONT),
          here("/hyperlegible-LICENSE.txt", "hyperlegible-LICENSE.txt", PLAIN),
          script("bar"),
          script("main"),
          script("pair"),
          script("stream"),
          script("brewer"),
          script("course"),
          script("debrief"),
          script("sound"),
          script("keys"),
          script("settings"),
          script("words"),
          Map.entry("/uPlot.js", new Source(CHART + "dist/uPlot.esm.js", SCRIPT)),
          Map.entry("/uPlot.css", new Source(CHART + "dist/uPlot.min.css", STYLE)),
          Map.entry("/uPlot-LICENSE.txt", new Source(CHART + "LICENSE", PLAIN)));

  private final Map<String, PageFile> loaded = new ConcurrentHashMap<>();

  /**
   * One file.
   *
   * @param tag changes whenever the content does
   */
  @SuppressWarnings("ArrayRecordComponent") // written once, read by the server only
  record PageFile(byte[] content, String type, String tag) {}

  private record Source(String resource, String type) {}

  private static Map.Entry<String, Source> here(String path, String name, String type) {
    return Map.entry(path, new Source(HERE + name, type));
  }

  private static Map.Entry<String, Source> script(String name) {
    return here("/" + name + ".js", name + ".js", SCRIPT);
  }

  static Iterable<String> paths() {
    return SOURCES.keySet();
  }

  Optional<PageFile> find(String path) {
    Source source = SOURCES.get(path);
    return source == null
        ? Optional.empty()
        : Optional.of(loaded.computeIfAbsent(path, asked -> load(source)));
  }

  private static PageFile load(Source source) {
    try (InputStream in = PageFiles.class.getResourceAsStream(source.resource())) {
      if (in == null) {
        throw new IllegalStateException("the program lacks its own file " + source.resource());
      }
      byte[] content = in.readAllBytes();
      byte[] digest = MessageDigest.getInstance("SHA-256").digest(content);
      return new PageFile(
          content, source.type(), '"' + HexFormat.of().formatHex(digest, 0, 12) + '"');
    } catch (IOException unreadable) {
      throw new UncheckedIOException(unreadable);
    } catch (NoSuchAlgorithmException never) {
      throw new IllegalStateException(never);
    }
  }
}
