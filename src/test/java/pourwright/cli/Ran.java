package pourwright.cli;

import java.io.PrintWriter;
import java.io.StringWriter;

/** What one call of the program said and how it ended. */
record Ran(int status, String out, String err) {

  static Ran pourwright(String... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    int status = Main.run(new PrintWriter(out), new PrintWriter(err), args);
    return new Ran(status, out.toString(), err.toString());
  }
}
