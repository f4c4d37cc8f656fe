package pourwright.sound;

import java.util.List;
import java.util.Locale;

/**
 * The sounds of the cues, told apart by rhythm first and by pitch second, so that a brewer who
 * hears badly, or a small speaker, still tells them apart.
 *
 * <p>Fundamentals lie between 150 and 1000 Hz and the harmonics that are played with them reach
 * beyond (IEC 60601-1-8 asks medical alarms for a fundamental of 150–1000 Hz and at least four
 * components up to 4 kHz). The rhythms are ours. The one that matters most, the stop, begins with
 * its highest and sharpest note: the hand reacts to the onset, not to the tune.
 */
@SuppressWarnings("ImmutableEnumChecker") // List.of makes lists that cannot be changed
public enum Signal {
  /** Two soft taps. */
  GET_READY("get ready", new Note(0, 90, 440), new Note(260, 90, 440)),
  /** Short, then long and higher. */
  START("pour", new Note(0, 100, 494), new Note(140, 420, 740)),
  /** Four even taps, as a finger on the table. */
  LATE(
      "late",
      new Note(0, 90, 587),
      new Note(200, 90, 587),
      new Note(400, 90, 587),
      new Note(600, 90, 587)),
  /** Two long falling ones. */
  SLOWER("slower", new Note(0, 200, 523), new Note(240, 260, 392)),
  /** Two quick rising ones. */
  FASTER("faster", new Note(0, 70, 523), new Note(90, 70, 698)),
  /** Three quick steps down. */
  EASE_OFF("ease off", new Note(0, 70, 784), new Note(110, 70, 659), new Note(220, 70, 523)),
  /** A sharp high one and a long low one. */
  STOP("stop", new Note(0, 70, 988), new Note(90, 450, 494)),
  /** Three long ones upwards. */
  DONE("all poured", new Note(0, 180, 440), new Note(220, 180, 554), new Note(440, 360, 659)),
  /** One low tap. */
  TALK("say", new Note(0, 60, 330)),
  /** Long and short by turns, low: nothing else sounds like it. */
  LINK_LOST(
      "scale lost",
      new Note(0, 260, 262),
      new Note(320, 90, 262),
      new Note(480, 260, 262),
      new Note(800, 90, 262)),
  /** Short, short, long, upwards. */
  LINK_BACK("scale is back", new Note(0, 80, 330), new Note(130, 80, 392), new Note(260, 260, 494));

  private final String word;
  private final List<Note> notes;

  Signal(String word, Note... notes) {
    this.word = word;
    this.notes = List.of(notes);
  }

  /** As shown and spoken. */
  public String word() {
    return word;
  }

  /** As named in messages. */
  public String kind() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** In order of time; they do not overlap. */
  public List<Note> notes() {
    return notes;
  }

  int lengthMillis() {
    return notes.get(notes.size() - 1).endMillis();
  }
}
