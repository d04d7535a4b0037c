@echo off
rem Runs the program; builds it first if it is not built yet. Relative paths are yours.
set "PROGRAM=%~dp0artifacts\bin\Undersand.App\release\Undersand.App.dll"
if not exist "%PROGRAM%" dotnet build "%~dp0src\Undersand.App" -c Release -v quiet -nologo 1>nul || exit /b 1
dotnet "%PROGRAM%" %*
