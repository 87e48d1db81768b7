# SPDX-License-Identifier: MIT
# Targets of one floor each, all with the same flags.

add_library(ww_flags INTERFACE)
target_include_directories(ww_flags INTERFACE ${CMAKE_SOURCE_DIR})
target_compile_options(ww_flags INTERFACE
  -ffp-contract=off -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wdouble-promotion -Wold-style-cast
  -Wnon-virtual-dtor)
# GCC 12 warns falsely of overlapping copies where strings are joined (its bug 105651).
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
  target_compile_options(ww_flags INTERFACE -Wno-restrict)
endif()
if(WW_WARNINGS_AS_ERRORS)
  target_compile_options(ww_flags INTERFACE -Werror)
endif()
if(WW_ASSERTIONS)
  target_compile_definitions(ww_flags INTERFACE WW_ASSERTIONS)
endif()
if(WW_SANITIZE)
  target_compile_options(ww_flags INTERFACE -fsanitize=${WW_SANITIZE} -fno-sanitize-recover=all
    -fno-omit-frame-pointer)
  target_link_options(ww_flags INTERFACE -fsanitize=${WW_SANITIZE})
  # GCC warns falsely of uninitialised library internals once it instruments them.
  if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    target_compile_options(ww_flags INTERFACE -Wno-maybe-uninitialized)
  endif()
endif()

# ww_floor(name SOURCES a.cpp ... LINKS ww_base ...)
function(ww_floor name)
  cmake_parse_arguments(FLOOR "" "" "SOURCES;LINKS" ${ARGN})
  add_library(ww_${name} STATIC ${FLOOR_SOURCES})
  target_link_libraries(ww_${name} PUBLIC ww_flags ${FLOOR_LINKS})
endfunction()

# The instruction sets that a kernel is compiled for, with their lanes and flags.
set(ww_archs scalar)
set(ww_width_scalar 1)
if(WW_WIDE_KERNELS AND CMAKE_SYSTEM_PROCESSOR MATCHES "x86_64|AMD64")
  list(APPEND ww_archs avx2 avx512)
  set(ww_width_avx2 4)
  set(ww_width_avx512 8)
  set(ww_flags_avx2 -march=x86-64-v3)
  set(ww_flags_avx512 -march=x86-64-v4 -mprefer-vector-width=512)
endif()

# ww_arch_object(target arch source): one source for one instruction set. Optimised wherever there are wide ones: at -O0
# such an object would export inline functions that the rest of the program might take.
function(ww_arch_object target arch source)
  add_library(${target} OBJECT ${source})
  target_link_libraries(${target} PRIVATE ww_flags)
  target_compile_definitions(${target} PRIVATE WW_ARCH=${arch} WW_WIDTH=${ww_width_${arch}})
  if(WW_WIDE_KERNELS)
    target_compile_options(${target} PRIVATE -O2 ${ww_flags_${arch}})
  endif()
  # GNU's own limits leave the motor's and the pack's small functions uninlined, and a batch then goes through memory at
  # each call. With these, measured on AVX-512: `check` of the three demos takes 0.68, 0.80 and 0.85 of the processor's
  # time (commuter, reference, beginner), all figures the same; the kernel compiles in 8 to 10 s instead of 3 to 4.
  # Not under the sanitizers, whose checks would grow with it.
  if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND WW_WIDE_KERNELS AND NOT WW_SANITIZE)
    target_compile_options(${target} PRIVATE
      --param=max-inline-insns-single=2000 --param=max-inline-insns-auto=500 --param=inline-unit-growth=1000
      --param=large-function-growth=10000 --param=large-stack-frame-growth=10000 --param=early-inlining-insns=200)
  endif()
  # GCC 12's own AVX-512 header warns falsely here.
  if(arch STREQUAL "avx512" AND CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    target_compile_options(${target} PRIVATE -Wno-maybe-uninitialized -Wno-uninitialized)
  endif()
endfunction()

# ww_test(name SOURCES a.cpp ... LINKS ww_model ...): one GoogleTest executable, one ctest entry.
function(ww_test name)
  cmake_parse_arguments(TEST "" "" "SOURCES;LINKS" ${ARGN})
  add_executable(test_${name} ${TEST_SOURCES})
  target_link_libraries(test_${name} PRIVATE ww_flags ${TEST_LINKS} GTest::gtest_main)
  target_compile_definitions(test_${name} PRIVATE WW_SOURCE_DIR="${CMAKE_SOURCE_DIR}")
  # GoogleTest's macros compare sizes of mixed sign; our own code is held to the full set above.
  target_compile_options(test_${name} PRIVATE -Wno-sign-conversion)
  add_test(NAME ${name} COMMAND test_${name})
endfunction()

# ww_embed(target symbol file...): the files' bytes become read-only data, listed by
# `const ww::EmbeddedFile* symbol_begin/symbol_end` (see build/embedded.h).
function(ww_embed target symbol)
  set(asm ${CMAKE_CURRENT_BINARY_DIR}/${symbol}.s)
  set(text "  .section .rodata\n")
  set(table "")
  set(index 0)
  foreach(path ${ARGN})
    get_filename_component(absolute ${path} ABSOLUTE BASE_DIR ${CMAKE_SOURCE_DIR})
    file(RELATIVE_PATH relative ${CMAKE_SOURCE_DIR} ${absolute})
    string(APPEND text
      "name_${index}: .asciz \"${relative}\"\n"
      "begin_${index}: .incbin \"${absolute}\"\n"
      "end_${index}: .byte 0\n")
    string(APPEND table "  .quad name_${index}, begin_${index}, end_${index}\n")
    list(APPEND depends ${absolute})
    math(EXPR index "${index} + 1")
  endforeach()
  string(APPEND text "  .section .data.rel.ro, \"aw\"\n  .balign 8\n  .global ${symbol}_begin\n${symbol}_begin:\n${table}"
    "  .global ${symbol}_end\n${symbol}_end:\n  .section .note.GNU-stack,\"\",@progbits\n")
  file(WRITE ${asm}.new "${text}")
  execute_process(COMMAND ${CMAKE_COMMAND} -E copy_if_different ${asm}.new ${asm})
  set_source_files_properties(${asm} PROPERTIES OBJECT_DEPENDS "${depends}" LANGUAGE ASM)
  target_sources(${target} PRIVATE ${asm})
endfunction()
