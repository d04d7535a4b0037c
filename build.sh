#!/usr/bin/env bash
# Builds all and runs all tests, as whoever works on it would.
set -euo pipefail
cd "$(dirname "$0")"
export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1
dotnet build -c Release -v quiet
dotnet test
