using Microsoft.AspNetCore.Builder;

namespace Undersand.Workbench.Web;

internal static class Features
{
    public static void Map(WebApplication app) => _ = app;
}
