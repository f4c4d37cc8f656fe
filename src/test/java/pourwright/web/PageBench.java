package pourwright.web;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.WebSocket;
import java.security.SecureRandom;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.CompletionStage;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import pourwright.coach.Feedback;
import pourwright.detect.DetectorSettings;
import pourwright.device.Bytes;
import pourwright.device.Chunk;
import pourwright.device.ScaleCommands;
import pourwright.device.Transport;
import pourwright.plan.PlanReader;
import pourwright.plan.PlanReading;
import pourwright.rig.Place;
import pourwright.rig.Rig;
import pourwright.session.PlacedScale;
import pourwright.session.Rehearsal;
import pourwright.session.RunStart;
import pourwright.session.Setup;
import pourwright.session.Stand;
import pourwright.units.SessionTime;

/**
 * Measures the way from bytes to the message and to the painted frame, with four scales at 80
 * readings a second, in real time. Arguments: seconds to run, and {@code browser} to paint as well.
 */
final class PageBench {
  private static final int SCALES = 4;
  private static final int RATE = 80;
  private static final Pattern AT = Pattern.compile("\"at_s\":([0-9.]+)");

  private PageBench() {}

  /** One reading every 12.5 ms of the clock. */
  private static final class RealTimeTransport implements Transport {
    private final ConcurrentMap<Long, Long> cameAtNanos;
    private final long zero;
    private final double seconds;
    private int next;

    RealTimeTransport(ConcurrentMap<Long, Long> cameAtNanos, long zero, double seconds) {
      this.cameAtNanos = cameAtNanos;
      this.zero = zero;
      this.seconds = seconds;
    }

    @Override
    public Arrival receive(Duration patience) throws InterruptedException {
      long due = zero + next * (1_000_000_000L / RATE);
      long wait = due - System.nanoTime();
      if (wait > 0) {
        Thread.sleep(wait / 1_000_000, (int) (wait % 1_000_000));
      }
      double at = next++ / (double) RATE;
      SessionTime time = SessionTime.ofSeconds(at);
      if (at > seconds) {
        return new Arrival.Ended(time);
      }
      double grams = Math.max(0, Math.min(264, (at - 3) * 4)) + 0.1 * Math.sin(at * 50);
      cameAtNanos.put(Math.round(at * 1000), System.nanoTime());
      return new Arrival.Received(
          new Chunk(time, Bytes.ofAscii(String.format(Locale.ROOT, "%.1f\n", grams))));
    }

    @Override
    public void send(Bytes command) {}

    @Override
    public void close() {}
  }

  public static void main(String[] args) throws Exception {
    double seconds = args.length > 0 ? Double.parseDouble(args[0]) : 30;
    boolean isPainted = args.length > 1 && args[1].equals("browser");
    LivePage live = new LivePage();
    long before = System.nanoTime();
    Pairing pairing = new Pairing(new SecureRandom(), System::nanoTime, code -> {});
    try (PageServer server =
        PageServer.open(new PageSettings(0, false), live, pairing, List.of())) {
      say("server opened in %.0f ms", (System.nanoTime() - before) / 1e6);
      ConcurrentMap<Long, Long> came = new ConcurrentHashMap<>();
      Rehearsal rehearsal = rehearsal(live, came, seconds, isPainted ? 10 : 3);
      List<Double> message = new ArrayList<>();
      HttpClient.newHttpClient()
          .newWebSocketBuilder()
          .buildAsync(
              URI.create("ws://127.0.0.1:" + server.address().getPort() + "/api/v1/live"),
              new Stopwatch(came, message))
          .join();
      long cpu = cpuNanos();
      long wall = System.nanoTime();
      if (isPainted) {
        paint(server, rehearsal, came);
      } else {
        rehearsal.run();
      }
      say(
          "busy: %.1f %% of one core, %d MB used",
          100.0 * (cpuNanos() - cpu) / (System.nanoTime() - wall), usedMegabytes());
      synchronized (message) {
        say("bytes in to message out: %s", percentiles(message));
      }
      cpu = cpuNanos();
      wall = System.nanoTime();
      Thread.sleep(3_000);
      say("idle: %.2f %% of one core", 100.0 * (cpuNanos() - cpu) / (System.nanoTime() - wall));
    }
  }

  private static void paint(PageServer server, Rehearsal rehearsal, ConcurrentMap<Long, Long> came)
      throws Exception {
    try (Playwright playwright = Browser.playwright();
        com.microsoft.playwright.Browser browser = Browser.launch(playwright)) {
      Page tab = browser.newPage();
      tab.addInitScript(
          """
          globalThis.painted = []; globalThis.frames = [];
          const add = Object.getOwnPropertyDescriptor(WebSocket.prototype, 'onmessage');
          Object.defineProperty(WebSocket.prototype, 'onmessage', { set(f) { add.set.call(this, e => {
            f(e); const at = /"at_s":([0-9.]+)/.exec(e.data);
            if (at) requestAnimationFrame(() => { const c = new MessageChannel();
              c.port1.onmessage = () => painted.push([+at[1], performance.timeOrigin + performance.now()]);
              c.port2.postMessage(0); }); }); } });
          const tick = now => { frames.push(now); requestAnimationFrame(tick); };
          requestAnimationFrame(tick);
          """);
      tab.navigate(server.address().toString());
      tab.waitForTimeout(1_000);
      double epochMillis = System.currentTimeMillis() - System.nanoTime() / 1e6;
      rehearsal.run();
      List<Double> painted = new ArrayList<>();
      for (Object pair : (List<?>) tab.evaluate("painted")) {
        List<?> one = (List<?>) pair;
        Long nanos = came.get(Math.round(((Number) one.get(0)).doubleValue() * 1000));
        if (nanos != null) {
          painted.add(((Number) one.get(1)).doubleValue() - (nanos / 1e6 + epochMillis));
        }
      }
      say("bytes in to painted frame: %s", percentiles(painted));
      List<?> frames = (List<?>) tab.evaluate("frames");
      int dropped = 0;
      for (int i = 1; i < frames.size(); i++) {
        double gap =
            ((Number) frames.get(i)).doubleValue() - ((Number) frames.get(i - 1)).doubleValue();
        dropped += (int) Math.max(0, Math.round(gap / (1000 / 60.0)) - 1);
      }
      double length =
          (((Number) frames.get(frames.size() - 1)).doubleValue()
                  - ((Number) frames.get(0)).doubleValue())
              / 1000;
      say(
          "frames: %.1f a second over %.0f s, %d dropped of %d",
          frames.size() / length, length, dropped, frames.size() + dropped);
    }
  }

  private static Rehearsal rehearsal(
      LivePage live, ConcurrentMap<Long, Long> came, double seconds, long startsInSeconds)
      throws IOException {
    String text = RehearsedPage.demoPlan();
    PlanReading.Understood plan = (PlanReading.Understood) PlanReader.read(text, "demo");
    List<RunStart.Lane> lanes = new ArrayList<>();
    List<PlacedScale> scales = new ArrayList<>();
    List<DetectorSettings> settings = new ArrayList<>();
    long zero = System.nanoTime() + startsInSeconds * 1_000_000_000L;
    for (int i = 1; i <= SCALES; i++) {
      Stand stand = new Stand(i, Place.WHOLE);
      lanes.add(
          new RunStart.Lane(
              i,
              "brewer " + i,
              Rig.WHOLE,
              Optional.of(new RunStart.WrittenPlan(text, plan.plan())),
              List.of(new RunStart.HeardScale(stand, "bench", "one-number"))));
      scales.add(
          new PlacedScale(
              stand,
              "bench",
              "one-number",
              false,
              new RealTimeTransport(came, zero, seconds),
              new ScriptedBrew.NumberDecoder(),
              ScaleCommands.NONE));
      settings.add(DetectorSettings.standard());
    }
    RunStart start = new RunStart(Instant.now(), "bench", true, Feedback.FULL, 0, lanes);
    Rehearsal rehearsal =
        new Rehearsal(
            new Setup(start, settings, scales, Setup.USUAL_IDLE_LIMIT), List.of(), List.of(live));
    live.begin(start, rehearsal::tell, afterword -> {});
    return rehearsal;
  }

  /** Takes the time of every message. */
  private static final class Stopwatch implements WebSocket.Listener {
    private final ConcurrentMap<Long, Long> came;
    private final List<Double> millis;
    private final StringBuilder text = new StringBuilder();

    Stopwatch(ConcurrentMap<Long, Long> came, List<Double> millis) {
      this.came = came;
      this.millis = millis;
    }

    @Override
    public @Nullable CompletionStage<?> onText(WebSocket socket, CharSequence data, boolean last) {
      long now = System.nanoTime();
      text.append(data);
      if (last) {
        Matcher at = AT.matcher(text);
        if (at.find()) {
          Long from = came.get(Math.round(Double.parseDouble(at.group(1)) * 1000));
          if (from != null) {
            synchronized (millis) {
              millis.add((now - from) / 1e6);
            }
          }
        }
        text.setLength(0);
      }
      socket.request(1);
      return null;
    }
  }

  private static String percentiles(List<Double> millis) {
    double[] sorted = millis.stream().mapToDouble(Double::doubleValue).sorted().toArray();
    if (sorted.length == 0) {
      return "nothing measured";
    }
    return String.format(
        Locale.ROOT,
        "p50 %.1f ms, p95 %.1f ms, p99 %.1f ms, n %d",
        sorted[sorted.length / 2],
        sorted[(int) (sorted.length * 0.95)],
        sorted[(int) (sorted.length * 0.99)],
        Arrays.stream(sorted).count());
  }

  private static long cpuNanos() {
    return ((com.sun.management.OperatingSystemMXBean) ManagementFactory.getOperatingSystemMXBean())
        .getProcessCpuTime();
  }

  private static long usedMegabytes() {
    System.gc();
    return ManagementFactory.getMemoryMXBean().getHeapMemoryUsage().getUsed() >> 20;
  }

  private static void say(String format, Object... values) {
    System.out.println(String.format(Locale.ROOT, format, values));
  }
}
