// A load cell on a 24-bit converter, read as fast as the converter measures; one line a reading.
//
// Prints "time_us,counts", then lines such as "1234567,-84210" at 115200 baud, and the heading again as a
// remark ("# time_us,counts") every five seconds, for a listener who came late. A reading at the converter's
// end ("ol") is left out by the listener: the cell was pulled harder than it can say.
// The wiring is in the README beside this folder.

#include <Arduino.h>

const uint8_t CLOCK_PIN = 2;  // to the converter's clock input
const uint8_t DATA_PIN = 3;   // to the converter's data output
const long BAUD = 115200;

const uint8_t BITS = 24;
const uint8_t EXTRA_PULSES = 1;  // 1: input A, gain 128. 2: input B, gain 32. 3: input A, gain 64.
const int32_t HIGHEST = 0x7FFFFF;
const int32_t LOWEST = -0x800000;
const uint32_t HEADING_EVERY_MS = 5000;

uint32_t heading_at_ms = 0;

void pulse() {
  digitalWrite(CLOCK_PIN, HIGH);  // must stay high for less than 60 µs, or the converter goes to sleep
  delayMicroseconds(1);
  digitalWrite(CLOCK_PIN, LOW);
  delayMicroseconds(1);
}

int32_t readCounts() {
  uint32_t bits = 0;
  noInterrupts();  // an interrupt while the clock is high could last too long
  for (uint8_t i = 0; i < BITS; i++) {
    pulse();  // the data line holds a bit from the rising edge on; the highest comes first
    bits = (bits << 1) | (digitalRead(DATA_PIN) == HIGH ? 1u : 0u);
  }
  for (uint8_t i = 0; i < EXTRA_PULSES; i++) pulse();  // chooses input and gain of the next reading
  interrupts();
  if (bits & 0x800000u) bits |= 0xFF000000u;  // two's complement of 24 bits to 32
  return (int32_t)bits;
}

void setup() {
  pinMode(CLOCK_PIN, OUTPUT);
  pinMode(DATA_PIN, INPUT);
  digitalWrite(CLOCK_PIN, LOW);
  Serial.begin(BAUD);
  Serial.println(F("time_us,counts"));
  heading_at_ms = millis();
}

void loop() {
  if (digitalRead(DATA_PIN) == HIGH) return;  // low: a reading is ready
  const uint32_t time_us = micros();          // starts again at nought after 71.6 minutes; that is known
  const int32_t counts = readCounts();
  Serial.print(time_us);
  Serial.print(',');
  if (counts == HIGHEST || counts == LOWEST) {
    Serial.println(F("ol"));
  } else {
    Serial.println(counts);
  }
  if (millis() - heading_at_ms >= HEADING_EVERY_MS) {
    Serial.println(F("# time_us,counts"));
    heading_at_ms = millis();
  }
}
