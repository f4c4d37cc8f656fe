package pourwright.cli;

import java.util.ArrayList;
import java.util.List;

/** Figures five rows high, to be read across a room. */
final class BigFigures {
  private static final int ROWS = 5;
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
   */
  static List<String> of(String number, String unit) {
    List<String> rows = new ArrayList<>();
    for (int row = 0; row < ROWS; row++) {
      StringBuilder line = new StringBuilder("   ");
      for (int i = 0; i < number.length(); i++) {
        int shape = KNOWN.indexOf(number.charAt(i));
        if (shape < 0) {
          throw new IllegalArgumentException("no figure for '" + number.charAt(i) + "'");
        }
        for (char dot : SHAPES[shape][row].toCharArray()) {
          line.append(dot == '#' ? "██" : "  ");
        }
        line.append("  ");
      }
      rows.add(row == ROWS - 1 ? line + unit : line.toString().stripTrailing());
    }
    return rows;
  }
}
