namespace FruitWatch.Service.Tests.Api.Contract;

/// <summary>
/// Holds every answer of the API that any test of this project gets to the description: its status, its media type and its JSON. A
/// status that is not described fails the test that met it.
/// </summary>
internal sealed class ContractHandler(HttpMessageHandler inner) : DelegatingHandler(inner)
{
    /// <summary>JSON that is longer is looked at by the examples only.</summary>
    private const int LongestChecked = 60_000;

    private static readonly SemaphoreSlim s_gate = new(1);
    private static ApiContract? s_contract;

    /// <summary>The description that the service gives; read once, as all services of a run are the same program.</summary>
    public static async Task<ApiContract> OfAsync(Uri service)
    {
        await s_gate.WaitAsync();
        try
        {
            if (s_contract is null)
            {
                using var http = new HttpClient { BaseAddress = service };
                s_contract = new ApiContract(await http.GetStringAsync("/openapi/v1.json"));
            }

            return s_contract;
        }
        finally
        {
            s_gate.Release();
        }
    }

    protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        var answer = await base.SendAsync(request, cancellationToken);
        var path = request.RequestUri!.AbsolutePath;
        if (!path.StartsWith("/api/", StringComparison.Ordinal))
            return answer;
        var contract = await OfAsync(new Uri(request.RequestUri.GetLeftPart(UriPartial.Authority)));
        await answer.Content.LoadIntoBufferAsync(cancellationToken);
        var body = await answer.Content.ReadAsStringAsync(cancellationToken);
        var wrong = contract.Check(
            request.Method.Method, path, (int)answer.StatusCode, answer.Content.Headers.ContentType?.MediaType, body.Length <= LongestChecked ? body : null);
        Assert.True(wrong is null, $"{request.Method} {request.RequestUri.PathAndQuery}: {wrong}");
        return answer;
    }
}
