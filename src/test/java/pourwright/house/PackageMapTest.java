package pourwright.house;

import static com.tngtech.archunit.base.DescribedPredicate.not;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAnyPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.type;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaPackage;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.io.Serializable;
import java.time.Clock;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The package map of DEVELOPERS.md, held by the build. */
class PackageMapTest {
  private static final String ROOT = "pourwright";

  private static final JavaClasses MAIN =
      new ClassFileImporter()
          .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
          .importPackages(ROOT);

  /** What a package may see beside itself, the JDK and JSpecify. */
  private record Room(boolean isPure, List<String> sees, List<String> libraries) {
    static Room pure(String... sees) {
      return new Room(true, List.of(sees), List.of());
    }

    static Room rim(String... sees) {
      return new Room(false, List.of(sees), List.of());
    }

    Room with(String... libraries) {
      return new Room(isPure, sees, List.of(libraries));
    }
  }

  private static final Map<String, Room> MAP =
      new TreeMap<>(
          Map.ofEntries(
              Map.entry("units", Room.pure()),
              Map.entry("rig", Room.pure()),
              Map.entry("metrology", Room.pure("units").with("org.hipparchus..")),
              Map.entry(
                  "performance", Room.pure("metrology", "statistic").with("org.hipparchus..")),
              Map.entry(
                  "check",
                  Room.pure("units", "reading", "plan", "metrology", "statistic", "performance")),
              Map.entry("mineral", Room.pure("units")),
              Map.entry("recipe", Room.pure("units", "rig", "plan")),
              Map.entry(
                  "forecast", Room.pure("units", "water", "bed", "plan", "kettle", "statistic")),
              Map.entry("kettle", Room.pure("units", "water").with("org.hipparchus..")),
              Map.entry("card", Room.rim("units", "plan", "stage", "water", "report")),
              Map.entry(
                  "stage",
                  Room.pure("units", "rig", "plan", "statistic", "water")
                      .with("org.chocosolver..", "org.snakeyaml.engine..")),
              Map.entry("statistic", Room.pure().with("org.hipparchus..")),
              Map.entry("reading", Room.pure("units")),
              Map.entry("water", Room.pure("units")),
              Map.entry("bed", Room.pure("units", "water", "detect").with("org.hipparchus..")),
              Map.entry(
                  "recording",
                  Room.rim("units", "rig", "reading", "device").with("com.fasterxml.jackson..")),
              Map.entry("device", Room.rim("units", "reading")),
              Map.entry(
                  "device.serial", Room.rim("units", "device").with("com.fazecast.jSerialComm..")),
              Map.entry(
                  "device.protocol",
                  Room.pure("units", "reading", "device").with("org.snakeyaml.engine..")),
              Map.entry(
                  "device.replay", Room.rim("units", "rig", "reading", "device", "recording")),
              Map.entry(
                  "device.simulated",
                  Room.rim(
                      "units",
                      "rig",
                      "reading",
                      "check",
                      "simulate",
                      "device",
                      "device.protocol",
                      "device.replay")),
              Map.entry(
                  "history",
                  Room.rim("check", "performance").with("com.fasterxml.jackson..", "org.slf4j..")),
              Map.entry("device.catalogue", Room.rim("device.protocol")),
              Map.entry("device.ble.gatt", Room.rim("device")),
              Map.entry(
                  "device.ble.tinyb",
                  Room.rim("device", "device.ble.gatt").with("tinyb..", "org.slf4j..")),
              Map.entry("device.ble.link", Room.pure("units", "device.ble.gatt")),
              Map.entry(
                  "device.ble.bluez",
                  Room.rim("device", "device.ble.gatt")
                      .with("org.freedesktop.dbus..", "org.slf4j..")),
              Map.entry(
                  "device.ble",
                  Room.rim(
                          "units",
                          "device",
                          "device.ble.gatt",
                          "device.ble.link",
                          "device.ble.bluez",
                          "device.ble.tinyb")
                      .with("org.slf4j..")),
              Map.entry("detect", Room.pure("units", "rig", "reading")),
              Map.entry("plan", Room.pure("units", "rig").with("org.snakeyaml.engine..")),
              Map.entry("roving", Room.pure("units", "reading")),
              Map.entry("simulate", Room.pure("units", "rig", "reading", "plan", "check")),
              Map.entry("compare", Room.pure("units", "rig", "reading", "detect", "plan")),
              Map.entry("coach", Room.pure("units", "rig", "reading", "detect", "plan", "compare")),
              Map.entry(
                  "session",
                  Room.rim(
                          "units", "rig", "reading", "device", "detect", "plan", "compare", "coach",
                          "roving")
                      .with("org.slf4j..")),
              Map.entry(
                  "record",
                  Room.rim("units", "rig", "detect", "compare").with("com.fasterxml.jackson..")),
              Map.entry("review", Room.pure("units", "plan", "compare", "coach", "statistic")),
              Map.entry("chart", Room.pure()),
              Map.entry(
                  "report",
                  Room.rim(
                          "units",
                          "plan",
                          "compare",
                          "coach",
                          "statistic",
                          "review",
                          "check",
                          "chart")
                      .with("com.openhtmltopdf..", "org.apache.pdfbox..")),
              Map.entry(
                  "journal",
                  Room.rim(
                          "units",
                          "rig",
                          "reading",
                          "device",
                          "detect",
                          "plan",
                          "compare",
                          "coach",
                          "recording",
                          "session")
                      .with("com.fasterxml.jackson..", "org.sqlite..", "org.slf4j..")),
              Map.entry(
                  "exchange",
                  Room.rim(
                          "units",
                          "rig",
                          "reading",
                          "device",
                          "detect",
                          "plan",
                          "compare",
                          "coach",
                          "recording",
                          "session",
                          "record",
                          "journal")
                      .with("com.fasterxml.jackson..")),
              Map.entry("sound", Room.rim().with("org.slf4j..")),
              Map.entry(
                  "web",
                  Room.rim(
                          "units", "rig", "reading", "detect", "plan", "compare", "coach",
                          "session", "sound")
                      .with(
                          "com.fasterxml.jackson..",
                          "com.google.zxing..",
                          "org.eclipse.jetty..",
                          "org.slf4j..")),
              Map.entry(
                  "builder",
                  Room.rim(
                          "units",
                          "rig",
                          "plan",
                          "recipe",
                          "bed",
                          "kettle",
                          "forecast",
                          "water",
                          "mineral",
                          "web")
                      .with("com.fasterxml.jackson..")),
              Map.entry("cli", Room.rim("..").with(".."))));

  /** Packages of the JDK that pure code must not touch; threads and clocks are named as types. */
  private static final String[] EFFECTS = {
    "java.io..",
    "java.nio..",
    "java.net..",
    "java.util.concurrent..",
    "javax..",
    "java.awt..",
    "java.sql.."
  };

  static Stream<String> mapped() {
    return MAP.keySet().stream();
  }

  @ParameterizedTest
  @MethodSource("mapped")
  void package_sees_only_what_the_map_allows(String name) {
    Room room = Objects.requireNonNull(MAP.get(name));
    if (room.sees().contains("..")) {
      return;
    }
    String[] allowed =
        Stream.of(
                Stream.of("java..", "javax..", "org.jspecify..", ROOT + "." + name),
                room.sees().stream().map(seen -> ROOT + "." + seen),
                room.libraries().stream())
            .flatMap(names -> names)
            .toArray(String[]::new);
    classes()
        .that()
        .resideInAPackage(ROOT + "." + name)
        .should()
        .onlyDependOnClassesThat(resideInAnyPackage(allowed))
        .check(MAIN);
  }

  @Test
  void packages_form_no_cycle() {
    slices().matching(ROOT + ".(**)").should().beFreeOfCycles().check(MAIN);
  }

  @Test
  void pure_code_has_no_effects_and_reads_no_clock() {
    String[] pure =
        MAP.entrySet().stream()
            .filter(entry -> entry.getValue().isPure())
            .map(entry -> ROOT + "." + entry.getKey())
            .toArray(String[]::new);
    noClasses()
        .that()
        .resideInAnyPackage(pure)
        .should()
        .dependOnClassesThat(
            resideInAnyPackage(EFFECTS)
                .and(not(type(Serializable.class)))
                .or(type(Thread.class))
                .or(type(Clock.class)))
        .check(MAIN);
    noClasses()
        .that()
        .resideInAnyPackage(pure)
        .should()
        .callMethod(System.class, "nanoTime")
        .orShould()
        .callMethod(System.class, "currentTimeMillis")
        .orShould()
        .callMethod(Instant.class, "now")
        .check(MAIN);
  }

  @Test
  void every_package_is_on_the_map() {
    Set<String> found = new TreeSet<>();
    for (JavaPackage inside : MAIN.getPackage(ROOT).getSubpackagesInTree()) {
      if (!inside.getClasses().isEmpty()) {
        found.add(inside.getName().substring(ROOT.length() + 1));
      }
    }
    assertThat(found).isSubsetOf(MAP.keySet());
  }
}
