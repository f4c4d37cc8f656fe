package pourwright.cli;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.encoder.PatternLayoutEncoder;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.rolling.FixedWindowRollingPolicy;
import ch.qos.logback.core.rolling.RollingFileAppender;
import ch.qos.logback.core.rolling.SizeBasedTriggeringPolicy;
import ch.qos.logback.core.util.FileSize;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.slf4j.LoggerFactory;
import pourwright.record.DataFolder;

/** Sends the log into the data folder; the terminal stays quiet. */
final class Logs {
  private static final int OLD_FILES = 4;
  private static final FileSize LARGEST_FILE = FileSize.valueOf("1MB");

  private Logs() {}

  /** From now on; without a folder to write to nothing is logged. */
  static void into(DataFolder data) {
    try {
      Files.createDirectories(data.logs());
    } catch (IOException refused) {
      return;
    }
    LoggerContext context = (LoggerContext) LoggerFactory.getILoggerFactory();
    context.reset();
    Path file = data.logs().resolve("pourwright.log");

    PatternLayoutEncoder lines = new PatternLayoutEncoder();
    lines.setContext(context);
    lines.setPattern("%d{yyyy-MM-dd'T'HH:mm:ss.SSSXXX} %-5level [%thread] %logger{0}: %msg%n");
    lines.start();

    RollingFileAppender<ILoggingEvent> appender = new RollingFileAppender<>();
    appender.setContext(context);
    appender.setName("data folder");
    appender.setFile(file.toString());
    appender.setEncoder(lines);

    FixedWindowRollingPolicy old = new FixedWindowRollingPolicy();
    old.setContext(context);
    old.setParent(appender);
    old.setFileNamePattern(data.logs().resolve("pourwright.%i.log").toString());
    old.setMinIndex(1);
    old.setMaxIndex(OLD_FILES);
    old.start();
    appender.setRollingPolicy(old);

    SizeBasedTriggeringPolicy<ILoggingEvent> trigger = new SizeBasedTriggeringPolicy<>();
    trigger.setContext(context);
    trigger.setMaxFileSize(LARGEST_FILE);
    trigger.start();
    appender.setTriggeringPolicy(trigger);
    appender.start();

    Logger root = context.getLogger(Logger.ROOT_LOGGER_NAME);
    root.setLevel(Level.INFO);
    root.addAppender(appender);
  }
}
