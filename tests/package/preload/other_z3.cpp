// Put before the real library (LD_PRELOAD), this makes Z3 say another version, as a newer one would.
extern "C" void Z3_get_version(unsigned* major, unsigned* minor, unsigned* build, unsigned* revision) {
  *major = 99;
  *minor = 8;
  *build = 7;
  *revision = 6;
}
