using System.Runtime.CompilerServices;
using FruitWatch.Service.Tests.Pages;

namespace FruitWatch.Service.Tests.Api.Contract;

/// <summary>Holds every answer that any test here gets of the API against its description.</summary>
internal static class Watching
{
    [ModuleInitializer]
    internal static void Begin() => TestService.Watched = handler => new ContractHandler(handler);
}
