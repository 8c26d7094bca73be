# The comment that opens a file, for Doxygen: it speaks of the file.
1,/^#pragma once/s|^// |/// |
1,/^#pragma once/s|^//$|///|
1s|^|/// \\file\
|
