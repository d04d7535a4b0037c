using System.Diagnostics;

namespace Undersand.Runs.Tests.Support;

/// <summary>
/// Runs programs of others that read and write the same formats. Where one is missing the test is skipped and says what to
/// install; with CI=true it fails instead.
/// </summary>
internal static class OutsideReader
{
    /// <summary>Debian's own Python: another one on the PATH lacks Debian's modules.</summary>
    private const string Python = "/usr/bin/python3";

    private static readonly Dictionary<string, string> DebianPackageOfModule = new()
    {
        ["segyio"] = "python3-segyio",
        ["osgeo"] = "python3-gdal",
        ["osgeo_utils"] = "python3-gdal",
        ["xarray"] = "python3-xarray python3-zarr",
        ["zarr"] = "python3-zarr",
        ["numpy"] = "python3-numpy",
        ["scipy"] = "python3-scipy",
        ["netCDF4"] = "python3-netcdf4",
    };

    /// <summary>Runs a Python script that needs a module; returns what it printed.</summary>
    /// <param name="script">The program's text.</param>
    /// <param name="module">The module it stands on.</param>
    /// <param name="args">What the script finds in <c>sys.argv[1:]</c>.</param>
    public static string RunPython(string script, string module, params string[] args)
    {
        string package = DebianPackageOfModule.GetValueOrDefault(module, "python3-" + module);
        if (!File.Exists(Python))
            Missing($"Python with the module {module}", "python3 " + package);
        if (Start(Python, ["-c", "import " + module]).ExitCode != 0)
            Missing($"the Python module {module}", package);
        return Output(Python, ["-c", script, .. args]);
    }

    /// <summary>Runs a program; returns what it printed on its standard output.</summary>
    /// <param name="tool">The program's name, found on the PATH.</param>
    /// <param name="debianPackage">What to install where it is missing.</param>
    /// <param name="args">Its arguments.</param>
    public static string RunTool(string tool, string debianPackage, params string[] args)
    {
        string? path = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
            .Where(folder => folder.Length > 0)
            .Select(folder => Path.Combine(folder, tool))
            .FirstOrDefault(File.Exists);
        if (path is null)
            Missing($"the program {tool}", debianPackage);
        return Output(path!, args);
    }

    private static void Missing(string what, string packages)
    {
        string message = $"{what} is missing: apt-get install {packages}";
        if (Environment.GetEnvironmentVariable("CI") == "true")
            Assert.Fail(message);
        Assert.Skip(message);
    }

    private static string Output(string program, string[] args)
    {
        (int exitCode, string output, string errors) = Start(program, args);
        if (exitCode != 0)
            Assert.Fail($"{Path.GetFileName(program)} ended with {exitCode}:{Environment.NewLine}{errors}{output}");
        return output;
    }

    private static (int ExitCode, string Output, string Errors) Start(string program, string[] args)
    {
        var start = new ProcessStartInfo(program, args) { RedirectStandardOutput = true, RedirectStandardError = true };
        using Process process = Process.Start(start)!;
        Task<string> errors = process.StandardError.ReadToEndAsync();
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, output, errors.Result);
    }
}
