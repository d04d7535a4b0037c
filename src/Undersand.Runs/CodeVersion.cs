using System.Reflection;
using System.Security.Cryptography;

namespace Undersand.Runs;

/// <summary>Which program this is.</summary>
public static class CodeVersion
{
    /// <summary>The program's version as people name it: “0.1.0”.</summary>
    public static string Program { get; } = Informational().Split('+')[0];

    /// <summary>The compiled code that decides about results, as 16 hexadecimal digits: any change of it makes tiles anew.</summary>
    /// <remarks>
    /// From the module version identifiers of the science, Storage and Runs. Builds are deterministic and source paths are mapped, so the
    /// same sources and compiler give the same digits wherever they are built; a commit's number wouldn't tell uncommitted changes apart.
    /// </remarks>
    public static string Code { get; } = Fingerprint(typeof(Survey).Assembly, Assembly.Load("Undersand.Storage"), typeof(CodeVersion).Assembly);

    /// <summary>The runtime: “.NET 10.0.1”.</summary>
    public static string Runtime => System.Runtime.InteropServices.RuntimeInformation.FrameworkDescription;

    private static string Informational() =>
        typeof(CodeVersion).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "0.0.0";

    private static string Fingerprint(params Assembly[] assemblies)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (Assembly assembly in assemblies)
            hash.AppendData(assembly.ManifestModule.ModuleVersionId.ToByteArray());
        return Convert.ToHexStringLower(hash.GetHashAndReset())[..16];
    }
}
