package pourwright.cli;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/** Figures five rows high or more, to be read across a room. */
final class BigFigures {
  static final int ROWS = 5;

  private static final String KNOWN = "0123456789.-";
  private static final String[][] SHAPES = {
    {" ### ", "#   #", "#   #", "#   #", " ### "},
    {"  #  ", " ##  ", "  #  ", "  #  ", " ### "},
    {" ### ", "#   #", "   # ", "  #  ", "#####"},
    {"#### ", "    #", " ### ", "    #", "#### "},
    {"#   #", "#   #", "#####", "    #", "    #"},
    {"#####", "#    ", "#### ", "    #", "#### "},
    {" ### ", "#    ", "#### ", "#   #", " ### "},
    {"#####", "    #", "   # ", "  #  ", "  #  "},
    {" ### ", "#   #", " ### ", "#   #", " ### "},
    {" ### ", "#   #", " ####", "    #", " ### "},
    {"  ", "  ", "  ", "  ", "# "},
    {"     ", "     ", " ### ", "     ", "     "},
  };

  private BigFigures() {}

  /**
   * A number and its unit.
   *
   * @param number digits, point and minus only
   * @param scale how often each dot is drawn across and down, from 1
   */
  static List<String> of(String number, String unit, int scale) {
    List<String> rows = new ArrayList<>();
    for (int row = 0; row < ROWS; row++) {
      StringBuilder line = new StringBuilder("   ");
      for (int i = 0; i < number.length(); i++) {
        int shape = KNOWN.indexOf(number.charAt(i));
        if (shape < 0) {
          throw new IllegalArgumentException("no figure for '" + number.charAt(i) + "'");
        }
        for (char dot : SHAPES[shape][row].toCharArray()) {
          line.append((dot == '#' ? "██" : "  ").repeat(scale));
        }
        line.append("  ".repeat(scale));
      }
      rows.addAll(Collections.nCopies(scale, line.toString().stripTrailing()));
      if (row == ROWS - 1) {
        rows.set(rows.size() - 1, line + unit);
      }
    }
    return rows;
  }
}
