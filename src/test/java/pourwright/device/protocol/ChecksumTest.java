package pourwright.device.protocol;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ChecksumTest {
  /**
   * Check values for the digits 1 to 9. Cyclic kinds: G. Cook, Catalogue of parametrised CRC
   * algorithms. Sums: 9 × 0x30 + 45 = 477 = 0x1DD, by hand; xor: 0x31 xor … xor 0x39, by hand.
   */
  @ParameterizedTest
  @CsvSource({
    "none, 0x0, 0",
    "xor, 0x31, 1",
    "sum, 0xdd, 1",
    "sum-twos, 0x23, 1",
    "sum-ones, 0x22, 1",
    "sum-16, 0x1dd, 2",
    "crc-8-smbus, 0xf4, 1",
    "crc-8-maxim-dow, 0xa1, 1",
    "crc-16-arc, 0xbb3d, 2",
    "crc-16-modbus, 0x4b37, 2",
    "crc-16-kermit, 0x2189, 2",
    "crc-16-xmodem, 0x31c3, 2",
    "crc-16-ibm-3740, 0x29b1, 2",
  })
  void every_kind_gives_its_published_check_value(String word, String check, int size) {
    Checksum kind = Checksum.findByWord(word).orElseThrow();
    byte[] bytes = Wire.latin("x123456789x");
    assertThat(kind.of(bytes, 1, 10)).isEqualTo(Integer.decode(check));
    assertThat(kind.size()).isEqualTo(size);
    assertThat(kind.word()).isEqualTo(word);
  }

  @Test
  void bytes_above_127_count_as_positive() {
    byte[] bytes = {(byte) 0xff, (byte) 0x80};
    assertThat(Checksum.SUM_16.of(bytes, 0, 2)).isEqualTo(0x17f);
    assertThat(Checksum.SUM_TWOS.of(bytes, 0, 2)).isEqualTo(0x81);
    assertThat(Checksum.XOR.of(bytes, 0, 2)).isEqualTo(0x7f);
  }

  @Test
  void there_is_no_kind_of_another_name() {
    assertThat(Checksum.findByWord("crc-32")).isEmpty();
  }
}
