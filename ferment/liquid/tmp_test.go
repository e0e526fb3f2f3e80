package liquid
import ("testing";"fmt")
func TestTmp(t *testing.T){
 for _,p:=range [][2]Gravity{{1.05,.995},{1.09,.995},{1.09,.992},{1.09,1.04},{1.12,.998},{1.05,.985},{1.09,.98},{1.2,1.05},{1.05,1.06}} {
  a,e:=AlcoholByBalance(p[0],p[1]); s,_:=SugarLeft(p[0],p[1]); fmt.Printf("%v %+v %v %+v\n",p,a,e,s)}
 for _,n:=range []Gravity{1.010,1.002,.995}{s,_:=SugarLeft(1.09,n);fmt.Println(n,s)}
 s,_:=SugarLeft(1.05,1.0);fmt.Println(s)
 for _,og:=range []Gravity{1.0,1.008,1.045,1.05,1.08,1.09,1.092,1.1,1.2}{p,_:=PotentialAlcohol(og);fmt.Println(og,p,lowestFrom(og),endOf(og,22).rho/998.203, Extract(og),GravityOfExtract(Extract(og)))}
 for _,c:=range []Celsius{10,15,18,22,25,28,30,35}{
  h:=Hydrometer{};g,e:=h.At20(1.05,c,Mix{});w,_:=h.At20(.995,c,Mix{1.09,true});f,_:=Hydrometer{Reference:SixtyFahrenheit}.At20(1.05,c,Mix{});fmt.Printf("%v %.2f %.2f %.2f %v\n",c,(g-1.05)*1000,(w-.995)*1000,(f-1.05)*1000,e)}
 for _,b:=range []Brix{12,20,22,24}{g,_:=GravityFromBrix(b);fmt.Println(b,g,g.Brix())}
 for _,k:=range []float64{17,18,19,25}{g,_:=GravityFromKMW(k);fmt.Println(k,g.Oechsle(),g.KMW())}
 for _,s:=range []GramsPerLitre{0,.8,1.7}{p,_:=BottlePressure(24,s,10);q,_:=BottlePressure(24,s,28);fmt.Println(s,p,q)}
 fmt.Println(FreezingPoint(12));fmt.Println(FreezingPoint(5));fmt.Println(RefractometerCorrection(20,15));fmt.Println(RefractometerCorrection(22,18.5))
 m,_:=SolutionOf(23,1.07,0); n:=m.WithSugar(61.5*23);fmt.Println(m,n.Volume(),n.Gravity()); fmt.Println(ExtractWithAlcohol(.995,12.72))
 g,_:=Hydrometer{}.At20(1.048,24,Mix{});fmt.Println(g); w,_:=SolutionOf(10,.995,12.5);fmt.Println(w.Volume(),w.Gravity(),w.ABV()); fmt.Println(pureEthanol)
}
func BenchmarkAt20(b *testing.B){ for b.Loop(){ Hydrometer{}.At20(1.03,24,Mix{1.09,true})}}
func BenchmarkSugarLeft(b *testing.B){ for b.Loop(){ SugarLeft(1.09,1.03)}}
func BenchmarkAlc(b *testing.B){ for b.Loop(){ AlcoholByBalance(1.09,1.03)}}
func BenchmarkPot(b *testing.B){ for b.Loop(){ PotentialAlcohol(1.09)}}
