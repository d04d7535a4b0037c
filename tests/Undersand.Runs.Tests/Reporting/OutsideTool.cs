using System.Diagnostics;

namespace Undersand.Runs.Tests.Reporting;

/// <summary>Runs a program of others over what we wrote. Where it is missing the test is skipped and says what to install; with CI=true it fails.</summary>
internal static class OutsideTool
{
    public static string Run(string program, string package, params string[] arguments)
    {
        var start = new ProcessStartInfo(program) { RedirectStandardOutput = true, RedirectStandardError = true };
        foreach (string argument in arguments)
            start.ArgumentList.Add(argument);
        Process process;
        try
        {
            process = Process.Start(start)!;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            string message = $"{program} is missing: apt-get install {package}";
            Assert.SkipUnless(Environment.GetEnvironmentVariable("CI") == "true", message);
            Assert.Fail(message);
            throw;
        }
        using (process)
        {
            Task<string> errors = process.StandardError.ReadToEndAsync();
            string output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            Assert.True(process.ExitCode == 0, $"{program} ended with {process.ExitCode}: {errors.Result}");
            return output;
        }
    }
}
